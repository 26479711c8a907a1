package assumed

import (
	"spectally/bands"
	"spectally/throughput"
	"spectally/throughput/site"
)

// reasons are the reasons in words.
var reasons = map[throughput.Why]string{
	throughput.WhyCommonPractice:   NoSource,
	throughput.WhyTestPatterns:     "as in the TDD patterns of TS 38.101-4 Annex A",
	throughput.WhyOneAntenna:       "one transmit antenna; " + NoSource,
	throughput.WhyTwoPorts:         "two receive antenna ports",
	throughput.WhyFourPorts:        "four receive antenna ports in this band",
	throughput.WhyTwoPolarisations: "two polarisations; " + NoSource,
	throughput.WhyNoOtherSignalled: "where the UE signals no other",
	throughput.WhyUplinkCategory:   "16QAM for UE categories without 64QAM in the uplink; " + NoSource,
	throughput.WhyEveryUE:          "every UE has it; 256QAM and 1024QAM are optional",
	site.WhySitePorts:              "at most the ports of the site",
	throughput.WhyDevice:           "the device's most; the carrier does not say",
}

// part says one assumption, without its band and what it shares with others.
func part(a *throughput.Assumption) string {
	link := ""
	if a.Direction != 0 {
		link = a.Direction.String() + " "
	}
	switch a.Quantity {
	case throughput.QuantityMaxRate:
		return "The maximum data rate is the standard's ceiling: it counts every symbol for the direction and does not discount TDD."
	case throughput.QuantitySpacing:
		return "subcarrier spacing " + a.Value + " (" + reasons[a.Why] + ")"
	case throughput.QuantityPattern:
		return "TDD pattern " + a.Value + " (" + reasons[a.Why] + ")"
	case throughput.QuantityShare:
		return link + a.Value + " of the time"
	case throughput.QuantityAirtime:
		return "the network has the channel all of the time, both directions together: nobody else uses it, and listening before talking costs nothing (" + reasons[a.Why] + ")"
	case throughput.QuantityLayers:
		return link + counted(a.Value, "layer") + " (" + reasons[a.Why] + ")"
	case throughput.QuantityQAM:
		return link + Constellation(a.Value) + " (" + reasons[a.Why] + ")"
	case throughput.QuantityUplinkChoice:
		return "uplink not added: of an uplink and its supplementary uplink only the faster counts"
	case throughput.QuantityBlockSize:
		return link[:len(link)-1] + ": " + a.Value + "; the largest block that has a size is taken"
	case throughput.QuantitySignals:
		return "signals set up as " + a.Value + "; what they do not say is as follows"
	case throughput.QuantityLTECell:
		return "cells with " + a.Value + "; what they do not say is as follows"
	case throughput.QuantityMCS:
		if a.Direction == bands.Uplink {
			return "highest MCS"
		}
		return "highest MCS of the table in every slot"
	case throughput.QuantityControlSymbols:
		return controlText(a)
	case throughput.QuantityBroadcast:
		if a.Value == "" {
			return "no slot is left to broadcast"
		}
		return "slot " + a.Value + " of every 20 ms is left to SS/PBCH block and broadcast"
	case throughput.QuantityXOverhead:
		return "xOverhead " + a.Value
	case throughput.QuantityPUCCH:
		if a.Value == "1" {
			return "one resource block of PUCCH"
		}
		return a.Value + " resource blocks of PUCCH"
	case throughput.QuantitySRS:
		return "SRS"
	case throughput.QuantitySpecialSlots:
		return "no data in special slots"
	case throughput.QuantityDMRS:
		if a.Value != "" {
			return "DM-RS " + a.Value
		}
		return "DM-RS of type 1 with one additional position, single-symbol up to 4 layers, double-symbol above; without data, as few CDM groups as hold the layers in the downlink and both in the uplink"
	case throughput.QuantityDataRate:
		return "no slot carries more than the maximum data rate of its carrier, DataRate"
	case throughput.QuantityCodeRate:
		return "largest blocks up to code rate " + a.Value
	case throughput.QuantityLinkCurve:
		return "Expected: truncated Shannon curve (TR 36.942 for LTE, TR 38.803 for NR, parts of both from memory), at most the scheduled rate. An estimate, no bound; on several layers it leans high: each is given the SINR of one, though they share the power."
	case throughput.QuantityNoiseFigure:
		return "Without a SINR the one that RSRP leaves over thermal noise with noise figure " + a.Value + " dB is taken: its upper bound, without interference."
	}
	return sitePart(a, link)
}

func controlText(a *throughput.Assumption) string {
	switch {
	case a.RAT == bands.LTE:
		return lteControl(a.Value)
	case a.Value == "":
		return "PDCCH takes 2 symbols of a slot (1 in FR2)"
	case a.Value == "0":
		return "PDCCH takes no symbol"
	}
	return "PDCCH takes " + counted(a.Value, "symbol") + " of a slot"
}

// Constellation names a constellation by its size.
func Constellation(size string) string {
	switch size {
	case "2":
		return "pi/2-BPSK"
	case "4":
		return "QPSK"
	}
	return size + "QAM"
}
