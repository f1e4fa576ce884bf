// Package unit holds the physical quantities of the workshop as defined
// float64 types, one type per quantity, in coherent SI inside.
//
// A Length is in metres, a Mass in kilograms, an Angle in radians, a Duration
// in seconds, a Temperature in kelvin (absolute) and a TempDiff in kelvin
// (difference), a Rate is dimensionless and positive when the clock gains.
// Arithmetic that crosses quantities is done by named methods
// ([Force.At], [Mass.Weight]), so that a length cannot be added to a torque
// by accident.
//
// # Reading what a person wrote
//
// [Parse] accepts what stands in notebooks and handbooks:
//
//	994 mm    99,4 cm    39.14 in    39 1/8"    3 ft 3 1/8 in    8 lignes
//	11 lb 8 oz    51° 28' 40" N    18.5 °C    +3.2 s/d    40 tpi
//
// A comma or a point marks decimals. A single comma followed by exactly three
// digits could be either a decimal or a thousands mark, so "1,234" is refused
// and the message says how to write it. A number without a unit takes the
// unit the caller assumed (the one printed beside the field); where none is
// assumed, it is refused, and so is a number without a unit after a part that
// had one ("5 ft 2"), a minus with a compass letter ("-6 S") and a temperature
// below the absolute zero. Every refusal is a [*ParseError] whose text is a
// sentence that says what is wrong and how to write it.
//
// # Writing
//
// [In] converts to a named unit, [Text] prints with a fixed number of
// decimals, [Significant] with a fixed number of digits. The minus is typeset
// (U+2212) and the space before a unit does not break; [Parse] reads both back.
//
// # Sources
//
// The inch is 25.4 mm and the avoirdupois pound 0.45359237 kg exactly
// (international yard and pound agreement of 1959). The ligne is the Paris
// line of 2.25583 mm (W. L. Goodrich, The Modern Clock, Chicago 1905,
// ch. II, which prints 2.25583); 1/443.296 m is used, the definition of 1799,
// which is 2.255829 mm.
package unit
