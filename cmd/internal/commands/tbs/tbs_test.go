package tbs

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
	"testing"

	"spectally/cmd/internal/commandtest"
)

// blockFields are the fields of the contract for one transport block.
type blockFields struct {
	TBS        int          `json:"tbs_bits"`
	RE         *int         `json:"n_re"`
	Info       *float64     `json:"n_info"`
	CodeRate   *json.Number `json:"code_rate"`
	Qm         *int         `json:"qm"`
	CodeBlocks int          `json:"code_blocks"`
	BaseGraph  *int         `json:"base_graph"`
	CRC        *int         `json:"crc_bits"`
	Codewords  []struct {
		Layers        int          `json:"layers"`
		TBS           int          `json:"tbs_bits"`
		Info          float64      `json:"n_info"`
		CodeBlocks    int          `json:"code_blocks"`
		CodeBlockBits any          `json:"code_block_bits"`
		CRC           int          `json:"crc_bits"`
		ChannelBits   int          `json:"channel_bits"`
		CodeRate      *json.Number `json:"code_rate"`
	} `json:"codewords"`
	Assumptions []string `json:"assumptions"`
	Working     []struct {
		Name   string `json:"name"`
		Result string `json:"result"`
	} `json:"working"`
}

func readBlock(t testing.TB, args ...string) blockFields {
	t.Helper()
	args = append([]string{"tbs"}, args...)
	var b blockFields
	if err := json.Unmarshal([]byte(commandtest.Must(t, Command(), append(args, "--format", "json")...)), &b); err != nil {
		t.Fatal(err)
	}
	return b
}

// Text, JSON and CSV say the same of a block.
func TestFormatsOfBlocksAgree(t *testing.T) {
	for _, args := range []string{
		"nr --prb 273 --symbols 12 --dmrs-re 24 --layers 4 --mcs-table 256qam --mcs 27",
		"nr --prb 10 --symbols 12 --dmrs-re 24 --layers 5 --mcs-table 1024qam --mcs 3",
		"nr --prb 4 --symbols 6 --dmrs-re 12 --rate 120/1024 --qm 2",
		"lte --prb 100 --layers 3 --mcs-table 256qam --mcs 27 --subframe 0",
		"lte --prb 6 --itbs 9",
	} {
		f := strings.Fields(args)
		b := readBlock(t, f...)
		rows, err := csv.NewReader(strings.NewReader(commandtest.Must(t, Command(), append(append([]string{"tbs"}, f...), "--format", "csv")...))).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		column := func(key string) int {
			for i, name := range rows[0] {
				if name == key {
					return i
				}
			}
			t.Fatalf("%s: no column %s", args, key)
			return 0
		}
		if len(rows) != 1+len(b.Codewords) {
			t.Fatalf("%s: %d rows for %d codewords", args, len(rows), len(b.Codewords))
		}
		text := commandtest.Must(t, Command(), append(append([]string{"tbs"}, f...), "--explain")...)
		for i, c := range b.Codewords {
			if got := rows[i+1][column("tbs_bits")]; got != strconv.Itoa(c.TBS) {
				t.Errorf("%s: codeword %d has %d bits in JSON and %s in CSV", args, i, c.TBS, got)
			}
			if !strings.Contains(text, fmt.Sprintf("= %d bits\n", c.TBS)) {
				t.Errorf("%s: the working does not come to %d bits", args, c.TBS)
			}
		}
		if !strings.Contains(text, strconv.Itoa(b.TBS)+" ") {
			t.Errorf("%s: the text does not have %d", args, b.TBS)
		}
		for _, step := range b.Working {
			if step.Name == "" || step.Result == "" {
				t.Errorf("%s: step %+v", args, step)
			}
		}
	}
}
