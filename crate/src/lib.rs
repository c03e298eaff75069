//! Layfigure: a clinician's plain-text exercise prescription, understood, checked, scheduled and drawn.
//!
//! The modules stand on floors, lowest first; each imports only from those before it
//! (`tests/floors.rs` holds this). `DEVELOPERS.md` has the map with what each must not know.

pub mod sorting;
pub mod text;
pub mod measure;
pub mod markup;
pub mod space;
pub mod solve;
pub mod body;
pub mod language;
pub mod notice;
pub mod pose;
pub mod figure;
pub mod dose;
pub mod catalog;
pub mod prescription;
pub mod programme;
pub mod week;
pub mod link;
pub mod diary;
pub mod handout;
pub mod export;
pub mod count;
pub mod desk;
pub mod home;
pub mod door;
