package batch

import (
	"bytes"
	"errors"
)

var (
	bomUTF8 = []byte("\xef\xbb\xbf")

	errUTF16 = errors.New("the text is in UTF-16: allowed is UTF-8")
	errUTF32 = errors.New("the text is in UTF-32: allowed is UTF-8")
)

// checkEncoding refuses text that is not in an encoding of single bytes, by its
// first four bytes: a byte-order mark, or the zeros that ASCII has in them.
func checkEncoding(start []byte) error {
	switch {
	case bytes.HasPrefix(start, []byte("\xff\xfe\x00\x00")), bytes.HasPrefix(start, []byte("\x00\x00\xfe\xff")):
		return errUTF32
	case bytes.HasPrefix(start, []byte("\xff\xfe")), bytes.HasPrefix(start, []byte("\xfe\xff")):
		return errUTF16
	case len(start) < 4:
		return nil
	}
	zeros := [4]bool{}
	for i := range zeros {
		zeros[i] = start[i] == 0
	}
	switch zeros {
	case [4]bool{false, true, false, true}, [4]bool{true, false, true, false}:
		return errUTF16
	case [4]bool{false, true, true, true}, [4]bool{true, true, true, false}:
		return errUTF32
	}
	return nil
}
