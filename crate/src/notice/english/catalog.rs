//! What is said of the fields of an exercise.

use crate::notice::kinds::catalog::OfCatalog;

pub(super) fn sentence(what: &OfCatalog) -> String {
    use OfCatalog::*;
    match what {
        UnknownField { typed, fields } => {
            format!("`{typed}` is not a field of an exercise. Fields are {}.", fields.join(", "))
        }
        LikeInFile => "A catalog file stands alone; write all of its fields.".to_string(),
        LikeNear { typed, near } => {
            let near: Vec<String> = near.iter().map(|name| format!("`{name}`")).collect();
            format!("The catalog has no `{typed}`; near it are {}.", near.join(", "))
        }
        LikeUnknown { typed } => format!("The catalog has no exercise called `{typed}`."),
        EmptyField { field } => format!("`{field}:` says nothing."),
        FieldTwice { field } => format!("`{field}:` stands twice; the later one counts."),
        BadNumber => "A number is a whole number from 1 up.".to_string(),
        YesOrNo { field } => format!("`{field}:` is `yes` or `no`."),
        OneOf { field, all } => format!("`{field}:` is one of {}.", all.join(", ")),
        NotOneOf { typed, field, all } => {
            format!("`{typed}` is not known for `{field}:`; it is one of {}.", all.join(", "))
        }
    }
}
