//! Paper: the sheet that the patient takes home. Does not know the browser.
