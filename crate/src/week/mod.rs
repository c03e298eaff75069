//! Days, parts of the day and the course. Does not know paper.
//!
//! [`model`] is the plain integer problem and its answer, [`solve`] finds the proven best answer,
//! [`order`] puts the exercises of one session in order, [`shortage`] says in words why the patient's
//! minutes do not suffice and what would be the smallest repairs.

pub mod model;
mod order;
mod pack;
mod ready;
pub mod solve;
pub mod shortage;
