package cli

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"spectally/cmd/internal/command"
)

const phone = "../../../testdata/devices/phone.toml"

func TestDeviceLimits(t *testing.T) {
	p, status := readPeak(t, "B3:20 + B7:20,qam=1024 + B20:10 + n78:100 + n78:80 + n28:10", "--device", phone)
	if p.Device == nil || status != command.Good || p.Device.Name != "phone A" {
		t.Fatalf("status %d, %+v, %+v", status, p.Device, p.Findings)
	}
	var limits []string
	for _, l := range p.Device.Limits {
		limits = append(limits, fmt.Sprintf("%d %s %s>%s", *l.Carrier, l.Item, l.Site, l.Device))
	}
	if got := strings.Join(limits, "; "); got != "2 modulation 1024>256; 6 carriers 6>5" {
		t.Errorf("limits: %s", got)
	}
	var numbers []string
	for _, c := range p.Carriers {
		numbers = append(numbers, strconv.Itoa(c.Carrier))
	}
	if got := strings.Join(numbers, " "); got != "1 2 3 4 5" {
		t.Errorf("carriers %s are taken", got)
	}
	if rateOf(t, p.DL.Max) >= rateOf(t, p.Device.DL.Max) {
		t.Errorf("the device reaches %s, the site %s", p.DL.Max, p.Device.DL.Max)
	}
	// What the device takes is what it is when asked for by itself.
	alone, _ := readPeak(t, p.Device.Takes)
	if !alone.DL.equal(p.DL) || !alone.UL.equal(p.UL) {
		t.Errorf("%s: %+v, with the device %+v", p.Device.Takes, alone.DL, p.DL)
	}
	p, status = readPeak(t, "n41:100", "--device", phone)
	if status != command.Refuted || len(p.Carriers) != 0 || p.DL.Max != "0" || p.Findings[0].Rule != "device" {
		t.Errorf("a band that the device lacks: status %d, %+v", status, p)
	}
	p, status = readPeak(t, "n78:100", "--device", phone)
	if status != command.Good || len(p.Device.Limits) != 0 || p.Carriers[0].UL.Layers != 2 {
		t.Errorf("a site that does not say takes what the device has: status %d, %+v", status, p.Carriers[0].UL)
	}
}

// A fault of a device file is one line with file, line, key and what is allowed.
func TestBadDeviceFiles(t *testing.T) {
	dir := t.TempDir()
	for text, want := range map[string]string{
		"[[band]]\nband = \"n78\"\nlayer = 4\n":   `:3: band 1: key "layer": must be band, layers, ullayers, qam, ulqam, widest_mhz, downlink_only, half_duplex; closest is layers`,
		"carriers = \"5\"\n[[band]]\nband = 3\n":  `:1: carriers "5": must be a number of carriers as a number, without quotes`,
		"carriers = 0\ncolour = 1\n[[band]]\n":    `:1: carriers "0": must be a number of carriers from 1 to 32 (and 2 more)`,
		"configurations = [\"CA_3A-7A\"\n[[band]": `:2: not TOML: `,
	} {
		file := filepath.Join(dir, "d.toml")
		if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		status, out, errs := run("throughput", "B3:20", "--device", file)
		if status != command.Unusable || out != "" || !strings.HasPrefix(errs, "spectally throughput: "+file+want) || strings.Count(errs, "\n") != 1 {
			t.Errorf("%q: exit status %d, %q, want %q", text, status, errs, want)
		}
	}
}
