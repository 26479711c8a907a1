// Package bands answers what a piece of spectrum is: the operating bands of LTE
// and NR, their limits, channel bandwidths, resource blocks, guard bands,
// channel numbers (EARFCN, NR-ARFCN), synchronisation raster (GSCN) and the way
// their two directions are paired.
//
// All frequencies are integer hertz. The tables of 3GPP are read from package
// data on first use; values returned are shared and must not be changed.
package bands
