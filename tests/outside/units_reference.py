"""Writes units_reference.csv: the factor of every unit to its base unit, as the unit library pint 0.25.3 has it.

Run it with pint 0.25.3 installed; it prints the table. Names are chosen so that none of the library's own traps is met:
it has no torque apart from energy, "Nm" is no torque, "mil" is an angle, "PS" is petasiemens.
"""

from decimal import Decimal, getcontext

import pint

assert pint.__version__ == "0.25.3", pint.__version__
getcontext().prec = 40
registry = pint.UnitRegistry(non_int_type=Decimal)

# dimension, symbol as printed by bayleaf, expression in the library, base unit in the library
ROWS = [
    ("torque", "N·m", "newton * meter", "newton * meter"),
    ("torque", "N·cm", "newton * centimeter", "newton * meter"),
    ("torque", "mN·m", "millinewton * meter", "newton * meter"),
    ("torque", "kN·m", "kilonewton * meter", "newton * meter"),
    ("torque", "kgf·m", "kilogram_force * meter", "newton * meter"),
    ("torque", "kgf·cm", "kilogram_force * centimeter", "newton * meter"),
    ("torque", "lb·ft", "force_pound * foot", "newton * meter"),
    ("torque", "lb·in", "force_pound * inch", "newton * meter"),
    ("torque", "ozf·in", "force_ounce * inch", "newton * meter"),
    ("angle", "°", "degree", "degree"),
    ("angle", "turn", "turn", "degree"),
    ("length", "mm", "millimeter", "meter"),
    ("length", "cm", "centimeter", "meter"),
    ("length", "m", "meter", "meter"),
    ("length", "µm", "micrometer", "meter"),
    ("length", "km", "kilometer", "meter"),
    ("length", "in", "inch", "meter"),
    ("length", "ft", "foot", "meter"),
    ("length", "yd", "yard", "meter"),
    ("length", "thou", "thou", "meter"),
    ("length", "mi", "mile", "meter"),
    ("area", "mm²", "millimeter ** 2", "meter ** 2"),
    ("area", "cm²", "centimeter ** 2", "meter ** 2"),
    ("area", "m²", "meter ** 2", "meter ** 2"),
    ("area", "in²", "inch ** 2", "meter ** 2"),
    ("area", "ft²", "foot ** 2", "meter ** 2"),
    ("pressure", "kPa", "kilopascal", "pascal"),
    ("pressure", "bar", "bar", "pascal"),
    ("pressure", "mbar", "millibar", "pascal"),
    ("pressure", "Pa", "pascal", "pascal"),
    ("pressure", "hPa", "hectopascal", "pascal"),
    ("pressure", "MPa", "megapascal", "pascal"),
    ("pressure", "kgf/cm²", "kilogram_force / centimeter ** 2", "pascal"),
    ("pressure", "psi", "force_pound / inch ** 2", "pascal"),
    ("pressure", "inHg", "inch_Hg", "pascal"),
    ("pressure", "mmHg", "millimeter_Hg", "pascal"),
    ("pressure", "inH₂O", "inch_H2O", "pascal"),
    ("volume", "L", "liter", "meter ** 3"),
    ("volume", "mL", "milliliter", "meter ** 3"),
    ("volume", "cL", "centiliter", "meter ** 3"),
    ("volume", "dL", "deciliter", "meter ** 3"),
    ("volume", "cm³", "centimeter ** 3", "meter ** 3"),
    ("volume", "m³", "meter ** 3", "meter ** 3"),
    ("volume", "US gal", "gallon", "meter ** 3"),
    ("volume", "US qt", "quart", "meter ** 3"),
    ("volume", "US pt", "pint", "meter ** 3"),
    ("volume", "US fl oz", "fluid_ounce", "meter ** 3"),
    ("volume", "Imp gal", "imperial_gallon", "meter ** 3"),
    ("volume", "Imp qt", "imperial_quart", "meter ** 3"),
    ("volume", "Imp pt", "imperial_pint", "meter ** 3"),
    ("volume", "Imp fl oz", "imperial_fluid_ounce", "meter ** 3"),
    ("volume", "in³", "inch ** 3", "meter ** 3"),
    ("volume", "ft³", "foot ** 3", "meter ** 3"),
    ("mass", "kg", "kilogram", "kilogram"),
    ("mass", "g", "gram", "kilogram"),
    ("mass", "mg", "milligram", "kilogram"),
    ("mass", "t", "metric_ton", "kilogram"),
    ("mass", "lb", "pound", "kilogram"),
    ("mass", "oz", "ounce", "kilogram"),
    ("mass", "short ton", "short_ton", "kilogram"),
    ("mass", "long ton", "long_ton", "kilogram"),
    ("force", "N", "newton", "newton"),
    ("force", "kN", "kilonewton", "newton"),
    ("force", "daN", "decanewton", "newton"),
    ("force", "kgf", "kilogram_force", "newton"),
    ("force", "lbf", "force_pound", "newton"),
    ("force", "ozf", "force_ounce", "newton"),
    ("temperature", "K", "kelvin", "kelvin"),
    ("temperature difference", "K", "kelvin", "kelvin"),
    ("temperature difference", "°C", "delta_degree_Celsius", "kelvin"),
    ("temperature difference", "°F", "delta_degree_Fahrenheit", "kelvin"),
    ("time", "s", "second", "second"),
    ("time", "min", "minute", "second"),
    ("time", "h", "hour", "second"),
    ("time", "d", "day", "second"),
    ("time", "ms", "millisecond", "second"),
    ("current", "A", "ampere", "ampere"),
    ("current", "mA", "milliampere", "ampere"),
    ("current", "µA", "microampere", "ampere"),
    ("voltage", "V", "volt", "volt"),
    ("voltage", "mV", "millivolt", "volt"),
    ("voltage", "kV", "kilovolt", "volt"),
    ("resistance", "Ω", "ohm", "ohm"),
    ("resistance", "mΩ", "milliohm", "ohm"),
    ("resistance", "kΩ", "kiloohm", "ohm"),
    ("resistance", "MΩ", "megaohm", "ohm"),
    ("power", "W", "watt", "watt"),
    ("power", "kW", "kilowatt", "watt"),
    ("power", "hp", "horsepower", "watt"),
    ("power", "PS", "metric_horsepower", "watt"),
    ("rotation speed", "r/min", "revolution / minute", "revolution / minute"),
]

print("dimension,symbol,expression,factor")
for dimension, symbol, expression, base in ROWS:
    factor = registry.Quantity(Decimal(1), expression).to(base).magnitude
    print(f"{dimension},{symbol},{expression},{+Decimal(factor):.20E}")
