//! The worker script that keeps the page, so that it opens without a connection. Only where the page is
//! served; a page on the disk is there anyway.

use js_sys::Promise;
use wasm_bindgen::prelude::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{Document, RegistrationOptions, ServiceWorkerContainer, ServiceWorkerRegistration, Window};

/// The browser's keeper of worker scripts. It is not there on `file:` and on plain `http:` other than this
/// computer's own; whoever asks then must go without.
fn container(window: &Window) -> Option<ServiceWorkerContainer> {
    let served = window.location().protocol().is_ok_and(|p| p.starts_with("http"));
    let navigator = window.navigator();
    let there = js_sys::Reflect::has(&navigator, &JsValue::from_str("serviceWorker")).unwrap_or(false);
    (served && there).then(|| navigator.service_worker())
}

/// Has the page kept, by the script that it names.
pub fn keep_page(window: &Window, document: &Document) {
    let script = document.document_element().and_then(|e| e.get_attribute("data-offline"));
    let (Some(container), Some(script), Ok(path)) = (container(window), script, window.location().pathname())
    else {
        return;
    };
    let options = RegistrationOptions::new();
    // This page alone: other pages beside it are none of its business.
    options.set_scope(&path);
    // Refused, in a private window say, the page is as it was: it needs a connection to open.
    let_be(&container.register_with_options(&script, &options));
}

/// Lets a wish that may be refused be refused in silence.
pub fn let_be<T>(promise: &Promise<T>) {
    let refused = Closure::<dyn FnMut(JsValue)>::new(|_| {});
    let _ = promise.unchecked_ref::<Promise>().catch(&refused);
    refused.forget();
}

/// Gets the newest version of the page and loads it. Where no worker answers, loading is enough.
pub fn renew(window: &Window) {
    let Some((container, worker)) = container(window).and_then(|c| c.controller().map(|w| (c, w))) else {
        let _ = window.location().reload();
        return;
    };
    let again = window.clone();
    let renewed = Closure::once_into_js(move || {
        let _ = again.location().reload();
    });
    container.set_onmessage(Some(renewed.unchecked_ref()));
    let _ = worker.post_message(&JsValue::from_str("renew"));
}

/// Has the kept page forgotten too: by the worker that is registered, whether it answers for this page or not.
pub fn forget(window: &Window) {
    let (Some(container), Ok(path)) = (container(window), window.location().pathname()) else { return };
    let told = Closure::once(|found: JsValue| {
        let Ok(registration) = found.dyn_into::<ServiceWorkerRegistration>() else { return };
        let worker = registration.active().or(registration.waiting()).or(registration.installing());
        match worker {
            // It takes its caches away and then itself.
            Some(worker) => {
                let _ = worker.post_message(&JsValue::from_str("forget"));
            }
            None => {
                if let Ok(promise) = registration.unregister() {
                    let_be(&promise);
                }
            }
        }
    });
    let found = container.get_registration_with_document_url(&path);
    let refused = Closure::<dyn FnMut(JsValue)>::new(|_| {});
    let _ = found.unchecked_ref::<Promise>().then2(&told, &refused);
    // The browser calls one of them once, long after this.
    told.forget();
    refused.forget();
}
