// Package interference answers whether a UE hurts itself: which products of what it
// transmits fall on what it receives. [Find] does the arithmetic, which needs no table:
// harmonics of an uplink, uplinks that meet a harmonic of the receiver's oscillator, and
// intermodulation of two and three uplinks.
//
// A product is a range of spectrum in whole hertz: that of carriers W1, W2 … wide with
// the coefficients c1, c2 … is |c1|·W1 + |c2|·W2 + … wide around the absolute value of
// c1·f1 + c2·f2 + …. Where it falls is exact; whether it matters depends on levels, which
// no arithmetic knows.
package interference
