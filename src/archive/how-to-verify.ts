import { namespace } from "./seal-layout.ts";

/**
 * What stands in a seal for people without this tool. Every line that is indented by four blanks is a command of a Unix shell, by six one
 * of PowerShell, by eight one of the Windows command prompt; each runs as it is written in the folder of the seal.
 */
export function howToVerifyText(about: { mark: string; hasInputs: boolean; isJourney: boolean }): string {
  return `HOW TO VERIFY THIS SEAL

This folder is a bag (BagIt 1.0, RFC 8493): evidence in data/, and beside it the lists of its checksums (SHA-512). Nothing
has to be installed. A system that shows folders may put files of its own into them (.DS_Store, Thumbs.db, desktop.ini): they are
not of the seal, and are to be deleted first.

ON LINUX AND MACOS

Open a terminal in this folder and run the indented lines one by one. Where there is no sha512sum or sha256sum, as on some Macs,
put "shasum -a 512" or "shasum -a 256" in its place. Steps 1 to 3 print nothing where nothing is wrong.

1. The list of the lists is the one of these files, byte for byte:

    sha512sum HOW-TO-VERIFY.txt bag-info.txt bagit.txt manifest-sha512.txt | cmp - tagmanifest-sha512.txt
    sha512sum --strict --quiet -c tagmanifest-sha512.txt

2. No file was changed:

    sha512sum --strict --quiet -c manifest-sha512.txt

3. No file is missing, and none is too much. This prints each name that is only on a list or only in the folder:

    { cut -c 131- manifest-sha512.txt tagmanifest-sha512.txt; echo tagmanifest-sha512.txt; find . ! -type d -print0 | tr '\\n\\000' '?\\n' | cut -c 3-; } | LC_ALL=C grep -v -e '^signatures/' -e '^timestamps/' | LC_ALL=C sort | LC_ALL=C uniq -u

4. Who signed. Signatures may be added later, so they stand on no list. Each file in signatures/ is an SSH signature of
   tagmanifest-sha512.txt, which names the manifest, which names every file: whoever signed it signed all of them. This says
   of each signature whether it holds, and with which key it was made (ssh-keygen of OpenSSH 8.1 or later):

    for s in signatures/*.sig; do [ -e "$s" ] || { echo "Nobody has signed."; break; }; printf '%s: ' "$s"; ssh-keygen -Y check-novalidate -n ${namespace} -s "$s" < tagmanifest-sha512.txt || echo "DOES NOT HOLD: $s"; done

   Whose key that is, you must know from elsewhere. Put the keys that you know into a file allowed_signers beside this folder,
   each on a line with the name of the signature's file (without .sig) in front: NAME ssh-ed25519 AAAA... Then run:

    for s in signatures/*.sig; do [ -e "$s" ] || { echo "Nobody has signed."; break; }; n="\${s#signatures/}"; printf '%s: ' "$s"; ssh-keygen -Y verify -f ../allowed_signers -I "\${n%.sig}" -n ${namespace} -s "$s" < tagmanifest-sha512.txt || echo "DOES NOT HOLD: $s"; done

5. The evidence mark. It stands on the signed paper, and is the beginning of the SHA-256 of data/result.json, which is
   ${about.mark}:

    sha256sum data/result.json

ON WINDOWS 10 AND LATER

In PowerShell, in this folder, for steps 1 to 3. The first line prints each listed file that was changed or is missing, the second each
file that no list has:

      gc manifest-sha512.txt, tagmanifest-sha512.txt -Encoding UTF8 | % { $h, $f = $_ -split '  ', 2; if (!(Test-Path -LiteralPath $f -PathType Leaf)) { "MISSING $f" } elseif ((Get-FileHash -LiteralPath $f -Algorithm SHA512).Hash -ne $h) { "CHANGED $f" } }
      $l = @(gc manifest-sha512.txt, tagmanifest-sha512.txt -Encoding UTF8 | % { $_.Substring(130) }) + 'tagmanifest-sha512.txt'; Get-ChildItem -Recurse -File -Force | % { $_.FullName.Substring($PWD.Path.Length + 1).Replace('\\', '/') } | ? { $l -cnotcontains $_ -and $_ -notlike 'signatures/*' -and $_ -notlike 'timestamps/*' } | % { "ADDED $_" }

In the command prompt (cmd), in this folder, for steps 4 and 5, with the name of each signature in place of NAME:

        ssh-keygen -Y check-novalidate -n ${namespace} -s "signatures\\NAME.sig" < tagmanifest-sha512.txt
        ssh-keygen -Y verify -f ..\\allowed_signers -I "NAME" -n ${namespace} -s "signatures\\NAME.sig" < tagmanifest-sha512.txt
        certutil -hashfile data\\result.json SHA256

WHAT THIS DOES NOT TELL

Whose a key is, and when somebody signed: a signature has no date that anybody but its signer vouches for. Whether a key was withdrawn
since: ask its owner. Files in timestamps/, where there are any, are tokens of time-stamping services (RFC 3161) over
tagmanifest-sha512.txt; the commands above do not check them, and proofwalk reads of what bytes and when, not whose they are. OpenSSL
does all of it with the service's own certificates (with -token_in besides, where FILE is a token without the service's answer around it):
openssl ts -verify -data tagmanifest-sha512.txt -in timestamps/FILE -CAfile CERTIFICATES
Whether the logs tell what happened, no checksum tells.

WHAT IS IN IT

data/result.json    every figure, unrounded, with its counts and the SHA-256 of every input file
data/site           the report as pages: open data/site/index.html in a browser, without a network
data/tables         the rows behind the figures as CSV; datapackage.json says what the columns are
${inputsLine(about)}
bag-info.txt        which report it is
signatures          who signed, where anybody has
timestamps          tokens of time-stamping services, where there are any

With the tool that made the seal, "proofwalk verify FOLDER" does steps 1 to 4 and judges the inputs again.
`;
}

function inputsLine({ hasInputs, isJourney }: { hasInputs: boolean; isJourney: boolean }): string {
  if (hasInputs && isJourney)
    return `data/inputs         the files that were judged, byte for byte: those of the journey in journeys, and those of each facility
                    on the way, whose own walks it stands beside`;
  return hasInputs
    ? "data/inputs         the files that were judged, byte for byte"
    : "                    The files that were judged are not in it: keep them elsewhere. result.json has the SHA-256 of each.";
}
