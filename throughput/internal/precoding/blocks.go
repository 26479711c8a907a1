// Package precoding knows what the transform precoder of the uplink takes.
package precoding

// Blocks is the largest number of resource blocks of the form 2^a 3^b 5^c that is at
// most n (TS 36.211 clause 5.3.3, TS 38.211 clause 6.3.1.4); 0 if n is below 1.
func Blocks(n int) int {
	for ; n > 0; n-- {
		rest := n
		for _, p := range [...]int{2, 3, 5} {
			for rest%p == 0 {
				rest /= p
			}
		}
		if rest == 1 {
			return n
		}
	}
	return 0
}
