//! What is kept elsewhere: the text for the clinician's notes. Does not know the browser.

pub mod record;
