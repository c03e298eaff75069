//! Short tones, made on the device, and buzzing where the phone can.

use crate::count::timer::Sign;
use wasm_bindgen::JsValue;
use web_sys::{AudioContext, Window};

/// Made when it is first wanted: browsers let a page sound only after something was pressed.
#[derive(Default)]
pub struct Sound {
    context: Option<AudioContext>,
}

impl Sound {
    /// Called while something is pressed.
    pub fn wake(&mut self, wanted: bool) {
        if wanted && self.context.is_none() {
            self.context = AudioContext::new().ok();
        }
        if wanted
            && let Some(context) = &self.context
            && let Ok(promise) = context.resume()
        {
            super::offline::let_be(&promise);
        }
    }

    pub fn give(&self, sign: Sign) {
        // Pitches that older ears hear well, and low enough for a phone's speaker: common practice, no source.
        let tones: &[(f32, f64, f64)] = match sign {
            Sign::Soon => &[(660.0, 0.0, 0.08)],
            Sign::Begin => &[(880.0, 0.0, 0.35)],
            Sign::Ease => &[(440.0, 0.0, 0.35)],
            Sign::Finish => &[(660.0, 0.0, 0.2), (770.0, 0.25, 0.2), (880.0, 0.5, 0.4)],
        };
        for (pitch, after, long) in tones {
            let _ = self.tone(*pitch, *after, *long);
        }
    }

    /// A tone of `pitch` hertz, so many seconds from now, so many seconds long.
    fn tone(&self, pitch: f32, after: f64, long: f64) -> Result<(), JsValue> {
        let Some(context) = &self.context else { return Ok(()) };
        let (tone, volume) = (context.create_oscillator()?, context.create_gain()?);
        let start = context.current_time() + after;
        tone.frequency().set_value(pitch);
        volume.gain().set_value_at_time(0.25, start)?;
        // Without this the end would click.
        volume.gain().linear_ramp_to_value_at_time(0.0, start + long)?;
        tone.connect_with_audio_node(&volume)?;
        volume.connect_with_audio_node(&context.destination())?;
        tone.start_with_when(start)?;
        tone.stop_with_when(start + long)
    }
}

pub fn can_buzz(window: &Window) -> bool {
    js_sys::Reflect::has(&window.navigator(), &JsValue::from_str("vibrate")).unwrap_or(false)
}

pub fn buzz(window: &Window, sign: Sign) {
    if can_buzz(window) {
        let ms = match sign {
            Sign::Soon => 40,
            Sign::Begin => 400,
            Sign::Ease => 150,
            Sign::Finish => 900,
        };
        let _ = window.navigator().vibrate_with_duration(ms);
    }
}
