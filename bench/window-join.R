# The same join in R: how many tags of the load were heard in each pass, and the sums behind it. With data.table where that is
# installed, else in base R. Prints how many presentations were heard.
folder <- commandArgs(trailingOnly = TRUE)[1]
passes <- read.csv(file.path(folder, "passes", "walk.csv"))
load <- read.csv(file.path(folder, "manifests", "load.csv"))$tag
instant <- function(text) as.numeric(as.POSIXct(text, format = "%Y-%m-%dT%H:%M:%SZ", tz = "UTC"))
passes$from <- (instant(passes$started_at) - 0.5) * 1e6
passes$to <- (instant(passes$ended_at) + 1) * 1e6
log <- file.path(folder, "reads", "session.csv")
if (requireNamespace("data.table", quietly = TRUE)) {
  library(data.table)
  reads <- fread(log, colClasses = list(double = "FirstSeenTimestampUTC"))
  setDT(passes)
  reads[, point := sub("R", "dock", ReaderName, fixed = TRUE)]
  setorder(passes, read_point, from)
  reads[passes, on = .(point = read_point, FirstSeenTimestampUTC >= from, FirstSeenTimestampUTC <= to), pass := i.pass]
  heard <- reads[!is.na(pass), .(reads = sum(TagSeenCount), rssi = max(PeakRSSI),
    first = min(FirstSeenTimestampUTC), last = max(FirstSeenTimestampUTC)), by = .(pass, EPC, AntennaID)]
  heard <- unique(heard[EPC %in% load, .(pass, EPC)])
} else {
  reads <- read.csv(log, colClasses = c("numeric", "character", "character", "integer", "numeric", "integer"))
  point <- sub("R", "dock", reads$ReaderName, fixed = TRUE)
  reads$pass <- NA_integer_
  for (each in unique(passes$read_point)) {
    own <- which(passes$read_point == each)
    own <- own[order(passes$from[own])]
    rows <- which(point == each)
    at <- findInterval(reads$FirstSeenTimestampUTC[rows], passes$from[own])
    pass <- own[ifelse(at == 0, NA, at)]
    pass[reads$FirstSeenTimestampUTC[rows] > passes$to[pass]] <- NA
    reads$pass[rows] <- pass
  }
  reads <- reads[!is.na(reads$pass), ]
  key <- paste(reads$pass, reads$EPC, reads$AntennaID)
  sums <- rowsum(reads$TagSeenCount, key)
  rssi <- tapply(reads$PeakRSSI, key, max)
  first <- tapply(reads$FirstSeenTimestampUTC, key, min)
  last <- tapply(reads$FirstSeenTimestampUTC, key, max)
  heard <- unique(reads[reads$EPC %in% load, c("pass", "EPC")])
}
cat(nrow(heard), "\n")
