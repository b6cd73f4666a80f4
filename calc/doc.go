// Package calc holds what is true of formulas, batches and jars. It is pure: no clock, no files, no network, nothing random, no state.
// Per cents and masses are whole numbers (0.0001 % and 1 mg) or exact decimals; binary floats appear only for chemistry (shares of an
// acid at a pH) and are rounded before they are judged or shown.
//
// Everything is reached in two ways: by the typed functions of this package, and by the one door Do, which takes and gives strict JSON.
package calc
