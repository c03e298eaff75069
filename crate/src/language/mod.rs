//! The words of the trade, once for every reader: one lexer, and one vocabulary each of sides, joints, motions,
//! limbs, comparators, denials and conditions. A reader of doses, limits or poses asks here what a word means; what the
//! words make together is its own business. Does not know lines, exercises or doses.

pub mod anatomy;
pub mod comparator;
pub mod condition;
pub mod restraint;
pub mod token;
pub mod typed;
pub mod unit;
