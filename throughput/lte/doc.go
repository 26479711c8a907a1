// Package lte answers what one LTE carrier sends: the size of a transport block (TS
// 36.213), the subframes of a frame structure and what signals leave of them (TS
// 36.211), the largest blocks that fit, and the UE categories (TS 36.306).
//
// Who wants the rates of a combination of carriers asks package throughput.
package lte
