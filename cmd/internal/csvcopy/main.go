// Command csvcopy copies CSV from standard input to standard output, record by record,
// and does nothing else. It is what the benchmark of the command batch is measured by.
package main

import (
	"bufio"
	"encoding/csv"
	"errors"
	"io"
	"log"
	"os"
)

func main() {
	r := csv.NewReader(bufio.NewReaderSize(os.Stdin, 1<<16))
	r.ReuseRecord = true
	w := csv.NewWriter(bufio.NewWriterSize(os.Stdout, 1<<16))
	for {
		record, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err == nil {
			err = w.Write(record)
		}
		if err != nil {
			log.Fatal(err)
		}
	}
	w.Flush()
	if err := w.Error(); err != nil {
		log.Fatal(err)
	}
}
