//! The standard sizes and pitches: metric by ISO 261 (the selection that ISO 262 and the vehicle trade use), unified by ASME B1.1.
//! Reading a designation and computing with it is left to `thread`.

/// A metric size.
pub(super) struct Metric {
    /// Nominal diameter, thousandths of a millimetre.
    pub(super) diameter: u32,
    /// Coarse pitch, thousandths of a millimetre; none for sizes that exist with fine pitches only.
    pub(super) coarse: Option<u32>,
    /// Fine pitches, the largest first.
    pub(super) fine: &'static [u32],
}

const fn metric(diameter: u32, coarse: u32, fine: &'static [u32]) -> Metric {
    Metric { diameter, coarse: if coarse == 0 { None } else { Some(coarse) }, fine }
}

/// ISO 261, 1 mm to 50 mm.
pub(super) const METRIC: &[Metric] = &[
    metric(1000, 250, &[]),
    metric(1200, 250, &[]),
    metric(1400, 300, &[]),
    metric(1600, 350, &[]),
    metric(1800, 350, &[]),
    metric(2000, 400, &[250]),
    metric(2500, 450, &[350]),
    metric(3000, 500, &[350]),
    metric(3500, 600, &[350]),
    metric(4000, 700, &[500]),
    metric(4500, 750, &[500]),
    metric(5000, 800, &[500]),
    metric(6000, 1000, &[750]),
    metric(7000, 1000, &[750]),
    metric(8000, 1250, &[1000, 750]),
    metric(9000, 1250, &[1000, 750]),
    metric(10000, 1500, &[1250, 1000, 750]),
    metric(11000, 1500, &[1000, 750]),
    metric(12000, 1750, &[1500, 1250, 1000]),
    metric(14000, 2000, &[1500, 1250, 1000]),
    metric(15000, 0, &[1500, 1000]),
    metric(16000, 2000, &[1500, 1000]),
    metric(17000, 0, &[1500, 1000]),
    metric(18000, 2500, &[2000, 1500, 1000]),
    metric(20000, 2500, &[2000, 1500, 1000]),
    metric(22000, 2500, &[2000, 1500, 1000]),
    metric(24000, 3000, &[2000, 1500, 1000]),
    metric(25000, 0, &[2000, 1500, 1000]),
    metric(26000, 0, &[1500]),
    metric(27000, 3000, &[2000, 1500, 1000]),
    metric(28000, 0, &[2000, 1500, 1000]),
    metric(30000, 3500, &[3000, 2000, 1500, 1000]),
    metric(32000, 0, &[2000, 1500]),
    metric(33000, 3500, &[3000, 2000, 1500]),
    metric(35000, 0, &[1500]),
    metric(36000, 4000, &[3000, 2000, 1500]),
    metric(38000, 0, &[1500]),
    metric(39000, 4000, &[3000, 2000, 1500]),
    metric(40000, 0, &[3000, 2000, 1500]),
    metric(42000, 4500, &[4000, 3000, 2000, 1500]),
    metric(45000, 4500, &[4000, 3000, 2000, 1500]),
    metric(48000, 5000, &[4000, 3000, 2000, 1500]),
    metric(50000, 0, &[3000, 2000, 1500]),
];

/// A unified size: threads per inch of the coarse, fine and extra-fine series; nought where the series has none.
pub(super) struct Unified {
    /// Number of a numbered size, or sixty-fourths of an inch.
    pub(super) size: u32,
    /// UNC.
    pub(super) coarse: u32,
    /// UNF.
    pub(super) fine: u32,
    /// UNEF.
    pub(super) extra_fine: u32,
}

const fn unified(size: u32, coarse: u32, fine: u32, extra_fine: u32) -> Unified {
    Unified { size, coarse, fine, extra_fine }
}

/// ASME B1.1, numbered sizes; the diameter is 0.060 in + 0.013 in for each number.
pub(super) const NUMBERED: &[Unified] = &[
    unified(0, 0, 80, 0),
    unified(1, 64, 72, 0),
    unified(2, 56, 64, 0),
    unified(3, 48, 56, 0),
    unified(4, 40, 48, 0),
    unified(5, 40, 44, 0),
    unified(6, 32, 40, 0),
    unified(8, 32, 36, 0),
    unified(10, 24, 32, 0),
    unified(12, 24, 28, 32),
];

/// ASME B1.1, 1/4 in to 1 1/2 in, in sixty-fourths of an inch.
pub(super) const INCH: &[Unified] = &[
    unified(16, 20, 28, 32),
    unified(20, 18, 24, 32),
    unified(24, 16, 24, 32),
    unified(28, 14, 20, 28),
    unified(32, 13, 20, 28),
    unified(36, 12, 18, 24),
    unified(40, 11, 18, 24),
    unified(48, 10, 16, 20),
    unified(56, 9, 14, 20),
    unified(64, 8, 12, 20),
    unified(72, 7, 12, 18),
    unified(80, 7, 12, 18),
    unified(88, 6, 12, 18),
    unified(96, 6, 12, 18),
];

/// Threads of brake pipe nuts that are in no unified series: sixty-fourths of an inch and threads per inch. 7/16-24 is the nut of the 1/4 in
/// pipe with an inverted flare (SAE J512; a brake line seller's page, looked up).
pub(super) const INVERTED_FLARE: &[(u32, u32)] = &[(28, 24)];
