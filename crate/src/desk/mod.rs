//! The clinician's page as an ask and its answer: state in, named slots of HTML out. Does not know the browser.
