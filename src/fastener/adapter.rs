//! What a torque wrench has to be set to when an adapter (crowfoot) lengthens it.
//! Whether a step needs one, and that the tool's range holds the setting, is left to whoever asks.

use super::Objection;

/// A wrench with an adapter. Both lengths are in one unit, whichever it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Adapter {
    /// From the middle of the grip to the middle of the wrench's square drive.
    pub wrench: f64,
    /// From the middle of the square drive to the middle of the fastener.
    pub extension: f64,
    /// Angle in degrees between the adapter and the wrench: 0 straight out, 90 square to it, 180 back along the handle.
    pub angle: f64,
}

impl Adapter {
    /// The setting that gives `torque` at the fastener, in the unit of `torque`: S = T·L / (L + E·cos θ).
    ///
    /// Square to the wrench the setting is the torque itself, to first order. The formula is that of torque-tool makers' instructions;
    /// an extension in line with the square drive (a socket extension) is no adapter in this sense.
    pub fn setting(&self, torque: f64) -> Result<f64, Objection> {
        self.ratio().map(|ratio| torque / ratio)
    }

    /// The torque at the fastener with the wrench set to `setting`.
    pub fn torque(&self, setting: f64) -> Result<f64, Objection> {
        self.ratio().map(|ratio| setting * ratio)
    }

    fn ratio(&self) -> Result<f64, Objection> {
        let Self { wrench, extension, angle } = *self;
        if !(wrench.is_finite() && wrench > 0.0) {
            return Err(Objection::new(
                format!("a wrench length of {wrench} cannot be"),
                "measure from the middle of the grip to the middle of the square drive",
            ));
        }
        if !(extension.is_finite() && extension >= 0.0) {
            return Err(Objection::new(
                format!("an adapter length of {extension} cannot be"),
                "measure from the middle of the square drive to the middle of the fastener",
            ));
        }
        if !(0.0..=360.0).contains(&angle) {
            return Err(Objection::new(
                format!("an adapter angle of {angle}° cannot be read"),
                "write the angle from the wrench's own line, 0° straight out to 180° back along the handle",
            ));
        }
        // The cosine of a right angle is not nought in binary, and there the setting is the torque exactly.
        let cosine = if angle == 90.0 || angle == 270.0 { 0.0 } else { angle.to_radians().cos() };
        let ratio = (wrench + extension * cosine) / wrench;
        // Below a tenth the fastener sits at the hand: no setting means anything there.
        if ratio < 0.1 {
            return Err(Objection::new(
                format!("an adapter of {extension} turned back by {angle}° along a wrench of {wrench} leaves no lever"),
                "turn the adapter square to the wrench, or use a longer wrench",
            ));
        }
        Ok(ratio)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn square_to_the_wrench_nothing_changes_and_backwards_needs_a_lever() {
        let adapter = |wrench, extension, angle| Adapter { wrench, extension, angle };
        assert_eq!(adapter(400.0, 50.0, 90.0).setting(80.0), Ok(80.0));
        for (wrench, extension, angle) in
            [(50.0, 50.0, 180.0), (50.0, 60.0, 180.0), (-400.0, 50.0, 0.0), (400.0, -50.0, 0.0), (0.0, 50.0, 0.0), (400.0, 50.0, f64::NAN)]
        {
            assert!(adapter(wrench, extension, angle).setting(80.0).is_err(), "{wrench} {extension} {angle}");
        }
    }

    #[test]
    fn setting_and_torque_undo_each_other() {
        for angle in [0.0, 30.0, 90.0, 135.0, 180.0] {
            let adapter = Adapter { wrench: 300.0, extension: 75.0, angle };
            let setting = adapter.setting(40.0).expect("the lengths are fine");
            assert!((adapter.torque(setting).expect("the same lengths") - 40.0).abs() < 1e-9);
        }
    }
}
