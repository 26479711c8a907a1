package batch

import (
	"encoding/binary"

	"spectally/ca"
)

// appendKey appends a key that tells combinations apart: every field that decides
// anything. Cell identities and levels are left out.
func appendKey(dst []byte, list ca.Combination) []byte {
	for i := range list {
		c := &list[i]
		dst = append(dst, byte(c.Band.RAT), byte(c.Transmit), byte(c.Role), c.Layers, c.UplinkLayers)
		dst = binary.LittleEndian.AppendUint16(dst, c.Band.Number)
		dst = binary.AppendUvarint(dst, uint64(c.Downlink))
		dst = binary.AppendUvarint(dst, uint64(c.Uplink))
		place := uint64(0)
		if c.HasChannel {
			place = uint64(uint32(c.Channel)) + 1
		}
		dst = binary.AppendUvarint(dst, place)
		dst = binary.AppendUvarint(dst, uint64(c.SSB))
		dst = binary.AppendUvarint(dst, uint64(c.RB))
		dst = binary.AppendUvarint(dst, uint64(c.Centre))
		dst = binary.AppendUvarint(dst, uint64(c.SSB))
		dst = binary.AppendUvarint(dst, uint64(c.SCS))
		dst = binary.AppendUvarint(dst, uint64(c.RB))
		dst = binary.AppendUvarint(dst, uint64(c.QAM))
		dst = binary.AppendUvarint(dst, uint64(c.UplinkQAM))
		dst = binary.AppendUvarint(dst, uint64(c.Scale))
		dst = binary.AppendUvarint(dst, uint64(len(c.Pattern)))
		dst = append(dst, c.Pattern...)
	}
	return dst
}

// appendForms appends a key that tells forms apart: the names and every way in which
// widths fall on them.
func appendForms(dst []byte, kind ca.Kind, forms []ca.Form) []byte {
	dst = append(dst, byte(kind))
	for i := range forms {
		name := forms[i].Name.String()
		dst = binary.AppendUvarint(append(dst, byte(forms[i].Name.Kind())), uint64(len(name)))
		dst = append(dst, name...)
		dst = binary.AppendUvarint(dst, uint64(len(forms[i].Ways)))
		for j := range forms[i].Ways {
			dst = appendWidths(dst, &forms[i].Ways[j])
		}
	}
	return dst
}

func appendWidths(dst []byte, w *ca.Widths) []byte {
	dst = append(dst, byte(w.Lower), byte(len(w.Components)))
	for _, blocks := range w.Components {
		dst = append(dst, byte(len(blocks)))
		for k := range blocks {
			ordered := byte(0)
			if blocks[k].Ordered {
				ordered = 1
			}
			dst = append(dst, ordered, byte(len(blocks[k].Carriers)))
			for _, f := range blocks[k].Carriers {
				dst = binary.AppendUvarint(dst, uint64(f))
			}
		}
	}
	return dst
}
