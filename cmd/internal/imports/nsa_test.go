package imports

import (
	"strings"
	"testing"
)

// The NR cell of E-UTRA with NR serves without the phone being registered with it: it is
// the carrier of that identity and channel, and another is a neighbour. Invented values in
// the form of the dump.
const nsaDump = `mPhysicalChannelConfigs=[{mConnectionStatus=PrimaryServing,mCellBandwidthDownlinkKhz=20000,mCellBandwidthUplinkKhz=20000,mNetworkType=LTE,mDownlinkChannelNumber=1300,mPhysicalCellId=77,mBand=3}, {mConnectionStatus=SecondaryServing,mCellBandwidthDownlinkKhz=80000,mCellBandwidthUplinkKhz=80000,mNetworkType=NR,mDownlinkChannelNumber=640000,mPhysicalCellId=417,mBand=78,mDownlinkFrequency=3600000}]
mCellInfo=[CellInfoNr:{mRegistered=NO mCellConnectionStatus=2 CellIdentityNr:{ mPci = 417 mNrArfcn = 640000 mBands = [78] } CellSignalStrengthNr:{ ssRsrp = -92 ssRsrq = -11 ssSinr = 14 }}, CellInfoNr:{mRegistered=NO CellIdentityNr:{ mPci = 418 mNrArfcn = 640000 mBands = [78] } CellSignalStrengthNr:{ ssRsrp = -101 ssRsrq = -14 ssSinr = 2 }}]
`

func TestSecondaryCellGroup(t *testing.T) {
	m, err := Read([]byte(nsaDump), Options{})
	if err != nil {
		t.Fatal(err)
	}
	n := &m.Networks[0]
	if got, want := n.Combination().String(), "n78:80@640000"; !strings.Contains(got, want) || !strings.Contains(got, "rsrp=-92") {
		t.Errorf("carriers %s, want %s with -92 dBm", got, want)
	}
	if len(n.Neighbours) != 1 || n.Neighbours[0].PCI != 418 {
		t.Errorf("neighbours %+v, want PCI 418 alone", n.Neighbours)
	}
}

func TestNameOfNewNetwork(t *testing.T) {
	m, err := Read([]byte(nsaDump), Options{})
	if err != nil {
		t.Fatal(err)
	}
	log, err := m.Into("", []byte("title = 'A walk'\n"), "Alpha")
	if err != nil || !strings.Contains(string(log), `name = "Alpha"`) {
		t.Errorf("%v in\n%s", err, log)
	}
}
