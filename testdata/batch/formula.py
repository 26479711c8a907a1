"""A plain script that answers a part of what the command batch does, as its measure.

It reads CSV with the columns carriers and down from standard input and adds dl_mhz,
dl_max_rate_mbps, dl_share_of_max and dl_bps_hz: channel bandwidths added, and the
maximum data rate of TS 38.306 V19.2.0 clause 4.1.2 for NR with the largest transport
blocks in 1 ms for LTE (TS 36.213 V19.3.0 Tables 7.1.7.2.1-1 and 7.1.7.2.2-1). It checks
nothing, knows no configuration and no schedule, and only the bands below. With the
argument "float" it computes in floating point, else in exact fractions.
"""

import csv
import re
import sys
from fractions import Fraction

NUMBER = float if sys.argv[1:] == ["float"] else Fraction

# TS 38.101-1 V19.5.0 Table 5.3.2-1, TS 38.101-2 V19.4.0 Table 5.3.2-1: N_RB by subcarrier spacing and MHz
BLOCKS = {
    15: {5: 25, 10: 52, 15: 79, 20: 106, 25: 133, 30: 160, 40: 216, 50: 270},
    30: {5: 11, 10: 24, 15: 38, 20: 51, 25: 65, 30: 78, 40: 106, 50: 133, 60: 162, 70: 189, 80: 217, 90: 245, 100: 273},
    120: {50: 32, 100: 66, 200: 132, 400: 264},
}
# TS 36.213: bits of the largest transport block at 64QAM on one layer, and of one on two layers, by MHz
LTE_BLOCKS = {1.4: (4392, 8760), 3: (11064, 22152), 5: (18336, 36696), 10: (36696, 75376), 15: (55056, 110136), 20: (75376, 149776)}
# subcarrier spacing, layers and modulation order where a carrier does not say
DEFAULTS = {
    "n1": (15, 2, 8), "n3": (15, 2, 8), "n7": (15, 4, 8), "n28": (15, 2, 8), "n41": (30, 4, 8), "n77": (30, 4, 8),
    "n78": (30, 4, 8), "n258": (120, 2, 6),
}
CARRIER = re.compile(r"^(?:(\d+)x)?(n\d+|B\d+):([\d.]+)((?:,\w+=[^,]+)*)$")


def nr_rate(scs, blocks, layers, order, overhead):
    symbol = NUMBER(1) / 1000 / (14 * (scs // 15))
    code_rate = NUMBER(948) / 1024
    return layers * order * code_rate * blocks * 12 / symbol * (1 - overhead)


def carrier_rate(text):
    count, band, mhz, keys = CARRIER.match(text).groups()
    keys = dict(pair.split("=") for pair in keys.split(",")[1:])
    width = float(mhz)
    if band.startswith("B"):
        layers = int(keys.get("layers", 2))
        bits = {1: 1, 2: 2, 4: 2}[layers] * LTE_BLOCKS[width][layers == 4]  # two codewords from two layers on
        rate = NUMBER(bits * 1000)
    else:
        scs, layers, order = DEFAULTS[band]
        layers = int(keys.get("layers", layers))
        order = {16: 4, 64: 6, 256: 8}[int(keys["qam"])] if "qam" in keys else order
        overhead = NUMBER(18) / 100 if scs == 120 else NUMBER(14) / 100
        rate = nr_rate(scs, BLOCKS[scs][width], layers, order, overhead)
    return int(count or 1) * width, int(count or 1) * rate


def decimals(value):
    whole = int(value * 1000000 + NUMBER(1) / 2)
    return f"{whole // 1000000}.{whole % 1000000:06d}".rstrip("0").rstrip(".")


def main():
    rows = csv.DictReader(sys.stdin)
    out = csv.DictWriter(sys.stdout, rows.fieldnames + ["dl_mhz", "dl_max_rate_mbps", "dl_share_of_max", "dl_bps_hz"], lineterminator="\n")
    out.writeheader()
    for row in rows:
        try:
            answers = [carrier_rate(text.replace(" ", "")) for text in row["carriers"].split("+")]
        except (AttributeError, KeyError, ValueError):
            out.writerow(row)
            continue
        mhz, rate = NUMBER(sum(a[0] for a in answers)), sum(a[1] for a in answers)
        row["dl_mhz"], row["dl_max_rate_mbps"] = decimals(mhz), decimals(rate / 1000000)
        if row["down"]:
            down = NUMBER(row["down"])
            row["dl_share_of_max"], row["dl_bps_hz"] = decimals(down * 1000000 / rate), decimals(down / mhz)
        out.writerow(row)


main()
