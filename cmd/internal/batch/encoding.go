package batch

import (
	"bytes"
	"errors"
)

var (
	bomUTF8 = []byte("\xef\xbb\xbf")

	errUTF16 = errors.New("the text is in UTF-16: must be UTF-8")
	errUTF32 = errors.New("the text is in UTF-32: must be UTF-8")

	errGzip = errors.New("the data are packed by gzip: the name of such a file must end in .gz; standard input takes unpacked rows")
	errZstd = errors.New("the data are packed by zstd: the name of such a file must end in .zst; standard input takes unpacked rows")
)

// checkEncoding refuses text that is not in an encoding of single bytes, by its
// first four bytes: a byte-order mark, or the zeros that ASCII has in them. It also
// refuses what is packed (RFC 1952 clause 2.3.1, RFC 8878 clause 3.1.1).
func checkEncoding(start []byte) error {
	switch {
	case bytes.HasPrefix(start, []byte("\xff\xfe\x00\x00")), bytes.HasPrefix(start, []byte("\x00\x00\xfe\xff")):
		return errUTF32
	case bytes.HasPrefix(start, []byte("\xff\xfe")), bytes.HasPrefix(start, []byte("\xfe\xff")):
		return errUTF16
	case bytes.HasPrefix(start, []byte("\x1f\x8b")):
		return errGzip
	case bytes.HasPrefix(start, []byte("\x28\xb5\x2f\xfd")):
		return errZstd
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
