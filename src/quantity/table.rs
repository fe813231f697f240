//! Every unit that is known, with its exact factor, the source of the factor and the spellings met in the trade.
//! It is data only: what the fields mean stands in `unit`, and how a spelling is matched is left to `lexis`.
//!
//! Each unit holds to what the trade writes; a spelling that can mean two things stands under `AMBIGUOUS` instead and is never guessed.
//! The base units are N·m, °, m, m², Pa, m³, kg, N, K, s, A, V, Ω, W and turns per minute.

use super::Dimension::{self, *};
use super::System::{self, *};
use super::Unit;
use super::exact::Exact;

const SI: &str = "SI Brochure, coherent unit with a decimal prefix";
const EXACT: &str = "exact by definition (NIST SP 811, App. B.8)";
const B8: &str = "NIST SP 811, App. B.8, from its exact parts";

// The columns, in order: dimension, system, symbol, name, factor, source, spellings in which capitals matter, those in which not.
#[rustfmt::skip]
pub(super) static UNITS: &[Unit] = &[
    row(Torque, Metric, "N·m", "newton metre", (1, 1), SI, &["N·m", "Nm"],
        &["newton·metre", "newton·metres", "newton·meter", "newton·meters"]),
    row(Torque, Metric, "N·cm", "newton centimetre", (1, 100), SI, &["N·cm"],
        &["newton·centimetre", "newton·centimetres", "newton·centimeter", "newton·centimeters"]),
    row(Torque, Metric, "cN·m", "centinewton metre", (1, 100), SI, &["cN·m"], &[]),
    row(Torque, Metric, "dN·m", "decinewton metre", (1, 10), SI, &["dN·m"], &[]),
    row(Torque, Metric, "daN·m", "decanewton metre", (10, 1), SI, &["daN·m"], &["decanewton·metre", "decanewton·metres"]),
    row(Torque, Metric, "mN·m", "millinewton metre", (1, 1000), SI, &["mN·m"], &[]),
    row(Torque, Metric, "kN·m", "kilonewton metre", (1000, 1), SI, &["kN·m"], &[]),
    row(Torque, Metric, "kgf·m", "kilogram-force metre", (980_665, 100_000), B8, &["kgf·m", "kg·m", "m·kg", "m·kgf", "kp·m", "mkp"],
        &["kilogram·metre", "kilogram·metres", "kilogram·meter", "kilogram·meters"]),
    row(Torque, Metric, "kgf·cm", "kilogram-force centimetre", (980_665, 10_000_000), B8, &["kgf·cm", "kg·cm", "cm·kg", "kp·cm"], &[]),
    row(Torque, Imperial, "lb·ft", "pound-force foot", (13_558_179_483_314_004, 10_000_000_000_000_000), B8, &[],
        &["lb·ft", "ft·lb", "ft/lb", "lbs·ft", "ft·lbs", "ft/lbs", "lbf·ft", "ft·lbf", "ft/lbf", "lb·foot", "foot·lb", "foot·lbs",
          "foot·lbf", "ft·#", "#·ft", "pound·foot", "pounds·foot", "pound·feet", "pounds·feet", "foot·pound", "foot·pounds",
          "feet·pounds", "foot·pound·force", "pound·force·foot", "pound·force·feet", "pi·lb", "lb·pi", "pi·lbf", "lbf·pi"]),
    row(Torque, Imperial, "lb·in", "pound-force inch", (1_129_848_290_276_167, 10_000_000_000_000_000), B8, &[],
        &["lb·in", "in·lb", "in/lb", "lbs·in", "in·lbs", "in/lbs", "lbf·in", "in·lbf", "in/lbf", "inch·lb", "inch·lbs", "in·#",
          "#·in", "pound·inch", "pounds·inch", "pound·inches", "inch·pound", "inch·pounds", "inch·pound·force", "pound·force·inch",
          "po·lb", "lb·po"]),
    row(Torque, Imperial, "ozf·in", "ounce-force inch", (1_129_848_290_276_167, 160_000_000_000_000_000), B8, &[],
        &["ozf·in", "oz·in", "in·oz", "in·ozf", "ounce·inch", "ounce·inches", "inch·ounce", "inch·ounces"]),

    row(Angle, Both, "°", "degree", (1, 1), EXACT, &["°", "deg"], &["degree", "degrees"]),
    row(Angle, Both, "turn", "turn", (360, 1), EXACT, &[], &["turn", "turns"]),

    row(Length, Metric, "mm", "millimetre", (1, 1000), SI, &["mm"], &["millimetre", "millimetres", "millimeter", "millimeters"]),
    row(Length, Metric, "cm", "centimetre", (1, 100), SI, &["cm"], &["centimetre", "centimetres", "centimeter", "centimeters"]),
    row(Length, Metric, "m", "metre", (1, 1), SI, &["m"], &["metre", "metres", "meter", "meters"]),
    row(Length, Metric, "µm", "micrometre", (1, 1_000_000), SI, &["µm", "um"],
        &["micrometre", "micrometres", "micrometer", "micrometers", "micron", "microns"]),
    row(Length, Metric, "km", "kilometre", (1000, 1), SI, &["km"], &["kilometre", "kilometres", "kilometer", "kilometers"]),
    row(Length, Imperial, "in", "inch", (254, 10_000), EXACT, &["in", "\"", "″", "”", "''", "ins"], &["inch", "inches"]),
    row(Length, Imperial, "ft", "foot", (3048, 10_000), EXACT, &["ft", "'", "′", "’"], &["foot", "feet"]),
    row(Length, Imperial, "yd", "yard", (9144, 10_000), EXACT, &["yd"], &["yard", "yards"]),
    row(Length, Imperial, "thou", "thousandth of an inch", (254, 10_000_000), EXACT, &[],
        &["thou", "mil", "mils", "thousandth", "thousandths"]),
    row(Length, Imperial, "mi", "mile", (1_609_344, 1000), EXACT, &["mi"], &["mile", "miles"]),

    row(Area, Metric, "mm²", "square millimetre", (1, 1_000_000), SI, &["mm²", "sq·mm", "qmm"],
        &["square·millimetre", "square·millimetres", "square·millimeters"]),
    row(Area, Metric, "cm²", "square centimetre", (1, 10_000), SI, &["cm²", "sq·cm"], &["square·centimetres", "square·centimeters"]),
    row(Area, Metric, "m²", "square metre", (1, 1), SI, &["m²", "sq·m"],
        &["square·metre", "square·metres", "square·meter", "square·meters"]),
    row(Area, Imperial, "in²", "square inch", (64_516, 100_000_000), EXACT, &["in²", "sq·in"], &["square·inch", "square·inches"]),
    row(Area, Imperial, "ft²", "square foot", (9_290_304, 100_000_000), EXACT, &["ft²", "sq·ft"], &["square·foot", "square·feet"]),

    row(Pressure, Metric, "kPa", "kilopascal", (1000, 1), SI, &["kPa", "KPa"], &["kilopascal", "kilopascals"]),
    row(Pressure, Metric, "bar", "bar", (100_000, 1), B8, &[], &["bar", "bars"]),
    row(Pressure, Metric, "mbar", "millibar", (100, 1), B8, &["mbar"], &["millibar", "millibars"]),
    row(Pressure, Metric, "Pa", "pascal", (1, 1), SI, &["Pa"], &["pascal", "pascals"]),
    row(Pressure, Metric, "hPa", "hectopascal", (100, 1), SI, &["hPa"], &[]),
    row(Pressure, Metric, "MPa", "megapascal", (1_000_000, 1), SI, &["MPa", "N/mm²"], &["megapascal", "megapascals"]),
    row(Pressure, Metric, "kgf/cm²", "kilogram-force per square centimetre", (980_665, 10), B8, &["kgf/cm²", "kg/cm²", "kp/cm²"], &[]),
    row(Pressure, Imperial, "psi", "pound-force per square inch", (44_482_216_152_605, 64_516 * 100_000), B8, &[],
        &["psi", "psig", "lbf/in²", "lb/in²", "lbs/in²", "lb/sq·in", "lbs/sq·in", "pounds·per·square·inch"]),
    row(Pressure, Imperial, "inHg", "inch of mercury", (133_322_387_415 * 254, 10_000_000_000), B8, &["inHg", "in·Hg", "″Hg", "\"Hg"],
        &["inches·of·mercury", "inch·of·mercury"]),
    row(Pressure, Metric, "mmHg", "millimetre of mercury", (133_322_387_415, 1_000_000_000), B8, &["mmHg", "mm·Hg"],
        &["millimetres·of·mercury", "millimeters·of·mercury"]),
    row(Pressure, Imperial, "inH₂O", "inch of water", (24_908_891, 100_000), B8, &["inH₂O", "in·H₂O", "inH2O", "in·H2O", "inWC", "in·WC"],
        &["inches·of·water"]),

    row(Volume, Metric, "L", "litre", (1, 1000), EXACT, &["L", "l", "ℓ"], &["litre", "litres", "liter", "liters", "ltr", "ltrs"]),
    row(Volume, Metric, "mL", "millilitre", (1, 1_000_000), EXACT, &["mL", "ml"],
        &["millilitre", "millilitres", "milliliter", "milliliters"]),
    row(Volume, Metric, "cL", "centilitre", (1, 100_000), EXACT, &["cL", "cl"],
        &["centilitre", "centilitres", "centiliter", "centiliters"]),
    row(Volume, Metric, "dL", "decilitre", (1, 10_000), EXACT, &["dL", "dl"], &[]),
    row(Volume, Metric, "cm³", "cubic centimetre", (1, 1_000_000), SI, &["cm³"],
        &["cc", "ccm", "cubic·centimetre", "cubic·centimetres", "cubic·centimeter", "cubic·centimeters"]),
    row(Volume, Metric, "m³", "cubic metre", (1, 1), SI, &["m³"], &["cubic·metre", "cubic·metres", "cubic·meter", "cubic·meters"]),
    row(Volume, Imperial, "US gal", "US gallon", (3_785_411_784, 1_000_000_000_000), EXACT, &[],
        &["US·gal", "US·gals", "US·gallon", "US·gallons", "U.S.·gal", "U.S.·gals", "U.S.·gallon", "U.S.·gallons", "gal·US", "gals·US",
          "gallon·US", "gallons·US"]),
    row(Volume, Imperial, "US qt", "US quart", (3_785_411_784, 4_000_000_000_000), B8, &[],
        &["US·qt", "US·qts", "US·quart", "US·quarts", "U.S.·qt", "U.S.·qts", "U.S.·quart", "U.S.·quarts", "qt·US", "qts·US",
          "quart·US", "quarts·US"]),
    row(Volume, Imperial, "US pt", "US pint", (3_785_411_784, 8_000_000_000_000), B8, &[],
        &["US·pt", "US·pts", "US·pint", "US·pints", "U.S.·pt", "U.S.·pts", "U.S.·pint", "U.S.·pints", "pt·US", "pts·US", "pint·US",
          "pints·US"]),
    row(Volume, Imperial, "US fl oz", "US fluid ounce", (3_785_411_784, 128_000_000_000_000), B8, &[],
        &["US·fl·oz", "US·fluid·ounce", "US·fluid·ounces", "US·oz", "U.S.·fl·oz", "U.S.·fluid·ounce", "U.S.·fluid·ounces", "U.S.·oz",
          "fl·oz·US", "fluid·ounce·US", "fluid·ounces·US", "oz·US"]),
    row(Volume, Imperial, "Imp gal", "Imperial gallon", (454_609, 100_000_000), EXACT, &[],
        &["Imp·gal", "Imp·gals", "Imp·gallon", "Imp·gallons", "Imperial·gal", "Imperial·gals", "Imperial·gallon", "Imperial·gallons",
          "UK·gal", "UK·gals", "UK·gallon", "UK·gallons", "Imp.·gal", "Imp.·gals", "Imp.·gallon", "Imp.·gallons", "U.K.·gal",
          "U.K.·gals", "U.K.·gallon", "U.K.·gallons", "gal·Imp", "gal·UK", "gals·Imp", "gals·UK", "gallon·Imp", "gallon·UK",
          "gallons·Imp", "gallons·UK"]),
    row(Volume, Imperial, "Imp qt", "Imperial quart", (454_609, 400_000_000), EXACT, &[],
        &["Imp·qt", "Imp·qts", "Imp·quart", "Imp·quarts", "Imperial·qt", "Imperial·qts", "Imperial·quart", "Imperial·quarts", "UK·qt",
          "UK·qts", "UK·quart", "UK·quarts", "Imp.·qt", "Imp.·qts", "Imp.·quart", "Imp.·quarts", "U.K.·qt", "U.K.·qts", "U.K.·quart",
          "U.K.·quarts", "qt·Imp", "qt·UK", "qts·Imp", "qts·UK", "quart·Imp", "quart·UK", "quarts·Imp", "quarts·UK"]),
    row(Volume, Imperial, "Imp pt", "Imperial pint", (454_609, 800_000_000), EXACT, &[],
        &["Imp·pt", "Imp·pts", "Imp·pint", "Imp·pints", "Imperial·pt", "Imperial·pts", "Imperial·pint", "Imperial·pints", "UK·pt",
          "UK·pts", "UK·pint", "UK·pints", "Imp.·pt", "Imp.·pts", "Imp.·pint", "Imp.·pints", "U.K.·pt", "U.K.·pts", "U.K.·pint",
          "U.K.·pints", "pt·Imp", "pt·UK", "pts·Imp", "pts·UK", "pint·Imp", "pint·UK", "pints·Imp", "pints·UK"]),
    row(Volume, Imperial, "Imp fl oz", "Imperial fluid ounce", (454_609, 16_000_000_000), EXACT, &[],
        &["Imp·fl·oz", "Imp·fluid·ounce", "Imp·fluid·ounces", "Imp·oz", "Imperial·fl·oz", "Imperial·fluid·ounce",
          "Imperial·fluid·ounces", "Imperial·oz", "UK·fl·oz", "UK·fluid·ounce", "UK·fluid·ounces", "UK·oz", "Imp.·fl·oz",
          "Imp.·fluid·ounce", "Imp.·fluid·ounces", "Imp.·oz", "U.K.·fl·oz", "U.K.·fluid·ounce", "U.K.·fluid·ounces", "U.K.·oz",
          "fl·oz·Imp", "fl·oz·UK", "fluid·ounce·Imp", "fluid·ounce·UK", "fluid·ounces·Imp", "fluid·ounces·UK", "oz·Imp", "oz·UK"]),
    row(Volume, Imperial, "in³", "cubic inch", (16_387_064, 1_000_000_000_000), EXACT, &["in³", "cu·in"],
        &["cubic·inch", "cubic·inches", "cid"]),
    row(Volume, Imperial, "ft³", "cubic foot", (28_316_846_592, 1_000_000_000_000), EXACT, &["ft³", "cu·ft"],
        &["cubic·foot", "cubic·feet"]),

    row(Mass, Metric, "kg", "kilogram", (1, 1), SI, &["kg"],
        &["kg", "kgs", "kilogram", "kilograms", "kilogramme", "kilogrammes", "kilo", "kilos"]),
    row(Mass, Metric, "g", "gram", (1, 1000), SI, &["g"], &["gram", "grams", "gramme", "grammes"]),
    row(Mass, Metric, "mg", "milligram", (1, 1_000_000), SI, &["mg"], &["milligram", "milligrams"]),
    row(Mass, Metric, "t", "tonne", (1000, 1), EXACT, &["t"], &["tonne", "tonnes", "metric·ton", "metric·tons"]),
    row(Mass, Imperial, "lb", "pound", (45_359_237, 100_000_000), EXACT, &[], &["lb", "lbs", "lbm", "pound", "pounds"]),
    row(Mass, Imperial, "oz", "ounce", (45_359_237, 1_600_000_000), EXACT, &[], &["oz", "ounce", "ounces"]),
    row(Mass, Imperial, "short ton", "short ton", (90_718_474, 100_000), EXACT, &[], &["short·ton", "short·tons", "US·ton", "US·tons"]),
    row(Mass, Imperial, "long ton", "long ton", (10_160_469_088, 10_000_000), EXACT, &[],
        &["long·ton", "long·tons", "UK·ton", "UK·tons", "imperial·ton", "imperial·tons"]),

    row(Force, Metric, "N", "newton", (1, 1), SI, &["N"], &["newton", "newtons"]),
    row(Force, Metric, "kN", "kilonewton", (1000, 1), SI, &["kN"], &["kilonewton", "kilonewtons"]),
    row(Force, Metric, "daN", "decanewton", (10, 1), SI, &["daN"], &[]),
    row(Force, Metric, "kgf", "kilogram-force", (980_665, 100_000), B8, &["kgf", "kp"], &["kilogram·force", "kilograms·force"]),
    row(Force, Imperial, "lbf", "pound-force", (44_482_216_152_605, 10_000_000_000_000), B8, &[], &["lbf", "pound·force", "pounds·force"]),
    row(Force, Imperial, "ozf", "ounce-force", (44_482_216_152_605, 160_000_000_000_000), B8, &[], &["ozf", "ounce·force"]),

    row(Temperature, Metric, "°C", "degree Celsius", (1, 1), EXACT, &["°C", "° C", "℃", "C"],
        &["deg·C", "degrees·C", "degree·C", "celsius", "degrees·celsius", "deg·celsius", "degree·celsius", "centigrade",
          "degrees·centigrade"]).above((27_315, 100)),
    row(Temperature, Imperial, "°F", "degree Fahrenheit", (5, 9), EXACT, &["°F", "° F", "℉", "F"],
        &["deg·F", "degrees·F", "degree·F", "fahrenheit", "degrees·fahrenheit", "deg·fahrenheit", "degree·fahrenheit"]).above((45_967, 180)),
    row(Temperature, Metric, "K", "kelvin", (1, 1), SI, &["K"], &["kelvin", "kelvins"]),

    row(TemperatureDifference, Metric, "K", "kelvin", (1, 1), SI, &["K"], &["kelvin", "kelvins"]),
    row(TemperatureDifference, Metric, "°C", "degree Celsius", (1, 1), EXACT, &["°C", "° C", "℃", "C", "Δ°C", "Δ °C", "C°", "∆°C", "∆ °C"],
        &["deg·C", "degrees·C", "celsius·degrees", "degrees·celsius"]),
    row(TemperatureDifference, Imperial, "°F", "degree Fahrenheit", (5, 9), EXACT,
        &["°F", "° F", "℉", "F", "Δ°F", "Δ °F", "F°", "∆°F", "∆ °F"],
        &["deg·F", "degrees·F", "fahrenheit·degrees", "degrees·fahrenheit"]),

    row(Time, Both, "min", "minute", (60, 1), EXACT, &[], &["min", "mins", "minute", "minutes"]),
    row(Time, Both, "h", "hour", (3600, 1), EXACT, &["h"], &["hr", "hrs", "hour", "hours"]),
    row(Time, Both, "s", "second", (1, 1), SI, &["s"], &["sec", "secs", "second", "seconds"]),
    row(Time, Both, "d", "day", (86_400, 1), EXACT, &["d"], &["day", "days"]),
    row(Time, Both, "ms", "millisecond", (1, 1000), SI, &["ms"], &["millisecond", "milliseconds", "msec"]),

    row(Current, Both, "A", "ampere", (1, 1), SI, &["A"], &["amp", "amps", "ampere", "amperes"]),
    row(Current, Both, "mA", "milliampere", (1, 1000), SI, &["mA"], &["milliamp", "milliamps", "milliampere", "milliamperes"]),
    row(Current, Both, "µA", "microampere", (1, 1_000_000), SI, &["µA", "uA"], &["microamp", "microamps"]),

    row(Voltage, Both, "V", "volt", (1, 1), SI, &["V", "Vdc", "VDC", "V DC", "V dc", "V·d.c", "Vac", "VAC", "V AC", "V ac", "V·a.c", "V~"], &["volt", "volts"]),
    row(Voltage, Both, "mV", "millivolt", (1, 1000), SI, &["mV"], &["millivolt", "millivolts"]),
    row(Voltage, Both, "kV", "kilovolt", (1000, 1), SI, &["kV", "KV"], &["kilovolt", "kilovolts"]),

    row(Resistance, Both, "Ω", "ohm", (1, 1), SI, &["Ω"], &["ohm", "ohms"]),
    row(Resistance, Both, "mΩ", "milliohm", (1, 1000), SI, &["mΩ"], &["milliohm", "milliohms"]),
    row(Resistance, Both, "kΩ", "kiloohm", (1000, 1), SI, &["kΩ", "kohm"], &["kiloohm", "kiloohms", "kilohm", "kilohms"]),
    row(Resistance, Both, "MΩ", "megaohm", (1_000_000, 1), SI, &["MΩ", "Mohm"], &["megaohm", "megaohms", "megohm", "megohms"]),

    row(Power, Both, "W", "watt", (1, 1), SI, &["W"], &["watt", "watts"]),
    row(Power, Metric, "kW", "kilowatt", (1000, 1), SI, &["kW", "KW", "kw"], &["kilowatt", "kilowatts"]),
    row(Power, Imperial, "hp", "horsepower", (13_558_179_483_314_004 * 550, 10_000_000_000_000_000), B8, &[], &["hp", "bhp", "horsepower"]),
    row(Power, Metric, "PS", "metric horsepower", (73_549_875, 100_000), B8, &["PS", "CV", "cv", "ch"],
        &["metric·hp", "metric·horsepower", "hp·(metric)"]),

    row(RotationSpeed, Both, "r/min", "revolution per minute", (1, 1), EXACT,
        &["1/min", "/min", "min⁻¹", "min-1", "min^-1", "min−1", "U/min"],
        &["rpm", "r/min", "rev/min", "revs/min", "rev·per·min", "revolutions·per·minute"]),
];

/// A spelling that the trade uses for more than one unit, or that says too little.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Ambiguous {
    /// The dimension asked for; in another one the same letters may be plain ("lb" is a good mass).
    pub dimension: Dimension,
    /// Spellings in which capitals matter.
    pub spellings: &'static [&'static str],
    /// Spellings in which capitals do not matter.
    pub words: &'static [&'static str],
    /// The symbols of the units that may be meant.
    pub readings: &'static [&'static str],
}

#[rustfmt::skip]
pub(super) static AMBIGUOUS: &[Ambiguous] = &[
    doubt(Torque, &["NM", "nm", "nM", "Nn"], &[], &["N·m"]),
    doubt(Torque, &["#"], &["lb", "lbs", "pound", "pounds"], &["lb·ft", "lb·in"]),
    doubt(Torque, &[], &["kg", "kgs", "kilo", "kilos", "kgf", "kp"], &["kgf·m", "kgf·cm"]),
    doubt(Torque, &[], &["oz", "ounce", "ounces", "ozf"], &["ozf·in"]),
    doubt(Pressure, &["#"], &["lb", "lbs", "pound", "pounds", "lbf"], &["psi"]),
    doubt(Pressure, &[], &["kg", "kgs", "kilo", "kilos", "kgf", "kp"], &["kgf/cm²"]),
    doubt(Pressure, &["in", "\"", "″"], &["inch", "inches"], &["inHg", "inH₂O"]),
    doubt(Volume, &[], &["gal", "gals", "gallon", "gallons"], &["US gal", "Imp gal"]),
    doubt(Volume, &[], &["qt", "qts", "quart", "quarts"], &["US qt", "Imp qt"]),
    doubt(Volume, &[], &["pt", "pts", "pint", "pints"], &["US pt", "Imp pt"]),
    doubt(Volume, &[], &["fl·oz", "fluid·ounce", "fluid·ounces", "oz", "ounce", "ounces"], &["US fl oz", "Imp fl oz"]),
    doubt(Mass, &[], &["ton", "tons"], &["t", "short ton", "long ton"]),
    doubt(Force, &["#"], &["lb", "lbs", "pound", "pounds"], &["lbf"]),
    doubt(Force, &[], &["kg", "kgs", "kilo", "kilos"], &["kgf"]),
    doubt(Temperature, &["°", "deg"], &["degree", "degrees"], &["°C", "°F"]),
    doubt(TemperatureDifference, &["°", "deg"], &["degree", "degrees"], &["°C", "°F"]),
    doubt(Time, &["m", "M"], &[], &["min"]),
    doubt(Resistance, &["R", "K", "k"], &[], &["Ω", "kΩ"]),
];

#[allow(clippy::too_many_arguments, reason = "a row of the table has as many columns as a unit has facts")]
const fn row(
    dimension: Dimension,
    system: System,
    symbol: &'static str,
    name: &'static str,
    factor: (i128, i128),
    source: &'static str,
    spellings: &'static [&'static str],
    words: &'static [&'static str],
) -> Unit {
    let factor = Exact::ratio(factor.0, factor.1);
    Unit { symbol, name, dimension, system, factor, offset: Exact::ZERO, source, spellings, words }
}

impl Unit {
    // A scale whose nought lies this far above that of the base unit.
    const fn above(self, offset: (i128, i128)) -> Self {
        Self { offset: Exact::ratio(offset.0, offset.1), ..self }
    }
}

const fn doubt(
    dimension: Dimension,
    spellings: &'static [&'static str],
    words: &'static [&'static str],
    readings: &'static [&'static str],
) -> Ambiguous {
    Ambiguous { dimension, spellings, words, readings }
}
