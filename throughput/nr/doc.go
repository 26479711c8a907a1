// Package nr answers what one NR carrier sends: the size of a transport block by its
// resource blocks, symbols and modulation and coding scheme (TS 38.214), the slots of a
// TDD pattern (TS 38.213), the blocks of every slot of a schedule, and the maximum data
// rate (TS 38.306).
//
// Who wants the rates of a combination of carriers asks package throughput.
package nr
