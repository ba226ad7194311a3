/** What --help prints: examples first. */
export const helpText = `proofwalk turns test-pass logs of RFID read points into verdicts and a sign-off site.

Examples
  proofwalk new data/my-facility      start a facility folder to fill in
  proofwalk check                     list every problem in data/, with file, line and column
  proofwalk judge                     what the evidence shows, in the terminal
  proofwalk compare                   what got better or worse from round to round
  proofwalk plan                      how many passes to walk, and what that risks
  proofwalk build                     write the site; open site/index.html
  proofwalk describe reads/dock-1.csv how a reader log is written, and the entry to paste
  proofwalk build --only my-facility --out stick/site

Commands
  check   reads the inputs and lists every problem     [--data DIR] [--only ID] [--json]
  judge   prints the findings of each facility         [--data DIR] [--only ID] [--json]
  compare tells what changed from round to round       [--data DIR] [--only ID] [--json]
  plan    says how much to walk, from plan: in facility.yaml   [--data DIR] [--only ID] [--json]
  build   writes the site, all of it or nothing        [--data DIR] [--out DIR] [--only ID]
  serve   builds, serves, rebuilds on every change     [--data DIR] [--out DIR] [--only ID] [--port N]
  new     starts a facility folder                     DIR
  describe tells how a reader log is written, and what to put into facility.yaml    FILE

Options
  --data DIR   folder with one folder a facility (data)
  --out DIR    folder of the site (site)
  --only ID    this facility only, and nothing else in the site; may be given more than once
  --json       print the result for other programs
  --port N     where serve listens on this machine (8321)
  --version    print the version

Exit status
  0 all met (check, build: done; compare: nothing got worse)
  1 something is not met (compare: something got worse)     3 something is undecided or untested
  2 input refused or wrong usage, nothing written           70 a fault of proofwalk
`;
