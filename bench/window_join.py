"""The same join in pandas: how many tags of the load were heard in each pass, and the sums behind it."""
import os
import sys

import pandas as pd

folder = sys.argv[1]
passes = pd.read_csv(os.path.join(folder, "passes", "walk.csv"), parse_dates=["started_at", "ended_at"])
load = set(pd.read_csv(os.path.join(folder, "manifests", "load.csv"))["tag"])
epoch = pd.Timestamp(0, tz="UTC")
passes["from_us"] = (passes["started_at"] - epoch) // pd.Timedelta("1us") - 500_000
passes["to_us"] = (passes["ended_at"] - epoch) // pd.Timedelta("1us") + 1_000_000
reads = pd.read_csv(
    os.path.join(folder, "reads", "session.csv"),
    dtype={"ReaderName": "category", "EPC": "category", "AntennaID": "int16", "TagSeenCount": "int32"},
)
reads["read_point"] = reads["ReaderName"].astype(str).str.replace("R", "dock", regex=False)
reads = pd.merge_asof(
    reads.sort_values("FirstSeenTimestampUTC"),
    passes[["pass", "read_point", "from_us", "to_us"]].sort_values("from_us"),
    left_on="FirstSeenTimestampUTC",
    right_on="from_us",
    by="read_point",
)
reads = reads[reads["FirstSeenTimestampUTC"] <= reads["to_us"]]
heard = reads.groupby(["pass", "EPC", "AntennaID"], observed=True).agg(
    {"TagSeenCount": "sum", "PeakRSSI": "max", "FirstSeenTimestampUTC": ["min", "max"]}
)
pairs = {(p, e) for p, e, _ in heard.index if e in load}
print(len(pairs))
