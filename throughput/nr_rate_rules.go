package throughput

// FasterUplink is the rate that counts of an uplink and the supplementary uplink
// of the same cell: the faster one (TS 38.306 clause 4.1.2, note).
func FasterUplink(uplink, supplementary Ratio) Ratio {
	if uplink.Cmp(supplementary) >= 0 {
		return uplink
	}
	return supplementary
}

// MaxRateTwoLayer1024QAM is the maximum data rate of a downlink carrier whose UE
// has 1024QAM with two layers alone (pdsch-1024QAM-2MIMO-FR1-r17): the larger of
// 1024QAM with at most two layers and c.Scaling, and 256QAM with all layers and
// scaling256, each with its own scaling factor (TS 38.306 clause 4.1.2, note).
func (c *NRCarrier) MaxRateTwoLayer1024QAM(scaling256 Ratio) (Ratio, error) {
	high := *c
	high.Qm, high.Layers = 10, min(2, c.Layers)
	wide := *c
	wide.Qm, wide.Scaling = 8, scaling256
	a, err := high.MaxRate()
	if err != nil {
		return Ratio{}, err
	}
	b, err := wide.MaxRate()
	if err != nil {
		return Ratio{}, err
	}
	if a.Cmp(b) >= 0 {
		return a, nil
	}
	return b, nil
}
