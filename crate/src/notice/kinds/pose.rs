//! What is told of the poses of an exercise, as they are read.

use super::kinds;
use crate::body::names::{Joint, Motion};

kinds! {
/// What is told of a pose. `word` is a part of the body, as it is called; `can` lists what a joint can do.
pub enum OfPose {
    "one-number" => {
        OneNumber: Error,
    }
    "no-motion" => {
        WhichMotion { word: &'static str, can: Option<String> }: Error,
    }
    "no-joint" => {
        NoJoint { word: &'static str }: Error,
    }
    "no-direction" => {
        NoDirection { word: &'static str }: Error,
    }
    "unclear-motion" => {
        UnclearMotion { word: &'static str, can: String }: Error,
    }
    "impossible-motion" => {
        ImpossibleMotion { joint: Joint, motion: Motion, can: String }: Error,
    }
    "no-degrees" => {
        NoDegrees { joint: String, motion: String }: Error,
    }
    "beyond-range" => {
        BeyondRange { joint: Joint, motion: Motion, most: String, asked: String }: Error,
    }
    "nothing-said" => {
        NothingSaid { word: String }: Error,
    }
    "side-not-clear" => {
        SideNotClear { word: String }: Error,
    }
    "unclear-word" => {
        UnclearWord { typed: String, one: String, two: String }: Error,
    }
    "unknown-pose-word" => {
        UnknownWord { typed: String }: Error,
    }
    "unread-clause" => {
        UnreadClause: Error,
        /// What stands before it counts.
        UnreadEnd: Error,
    }
    "side-not-said" => {
        SideNotSaid { word: &'static str }: Advice,
    }
    "touches-nothing" => {
        TouchesNothing: Error,
        TouchesUnknown { typed: String, things: Vec<&'static str> }: Error,
    }
    "thing-not-named" => {
        ThingNotNamed { thing: &'static str, assumed: String }: Advice,
    }
    "no-skin" => {
        NoSkin { word: &'static str }: Error,
    }
    "touches-itself" => {
        TouchesItself: Error,
    }
    "edge-of-what" => {
        EdgeOfWhat: Error,
    }
    "unknown-pose-key" => {
        UnknownKey { key: String }: Error,
    }
    "no-part" => {
        NoPart: Error,
    }
    "unknown-view" => {
        FromNowhere: Error,
        UnknownView: Error,
    }
    "asked-twice" => {
        AskedTwice: Error,
    }
    "touches-twice" => {
        TouchesTwice: Error,
    }
    "too-many-poses" => {
        TooManyPoses { most: usize }: Error,
    }
    "pose-without-header" => {
        WithoutHeader: Error,
    }
    "pose-without-name" => {
        WithoutName: Error,
    }
    "same-pose-name" => {
        SameName { name: String }: Error,
    }
    "unknown-posture" => {
        UnknownPosture { typed: String, assumed: String, postures: Vec<&'static str> }: Error,
    }
    "pose-without-posture" => {
        WithoutPosture { assumed: String }: Error,
    }
    "cannot-straighten" => {
        CannotStraighten { word: &'static str }: Error,
    }
    "unknown-show" => {
        UnknownShow: Error,
    }
    "odd-size" => {
        OddSize { thing: &'static str, usual: String }: Error,
    }
    "unknown-placing" => {
        /// `places`: where it can go, as it is written.
        UnknownPlacing { thing: &'static str, places: String }: Error,
    }
    "odd-seconds" => {
        OddSeconds: Error,
    }
}
}
