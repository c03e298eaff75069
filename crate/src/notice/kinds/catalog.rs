//! What is told of the fields of an exercise, as they are read.

use super::kinds;

kinds! {
/// What is told of a field.
pub enum OfCatalog {
    "unknown-field" => {
        UnknownField { typed: String, fields: Vec<&'static str> }: Error,
    }
    "like-in-file" => {
        LikeInFile: Error,
    }
    "unknown-like" => {
        LikeNear { typed: String, near: Vec<String> }: Error,
        LikeUnknown { typed: String }: Error,
    }
    "empty-field" => {
        EmptyField { field: &'static str }: Error,
    }
    "field-twice" => {
        FieldTwice { field: &'static str }: Error,
    }
    "bad-number" => {
        BadNumber: Error,
    }
    "bad-value" => {
        YesOrNo { field: &'static str }: Error,
        OneOf { field: &'static str, all: Vec<&'static str> }: Error,
        NotOneOf { typed: String, field: String, all: Vec<&'static str> }: Error,
    }
}
}
