#!/usr/bin/env bash
# Makes the pictures of docs/pictures from the sample plan as it is today. Run it after the card changes.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

./run >/dev/null
mkdir -p docs/pictures
pdftoppm -png -r 110 -singlefile out/allotment_bucket.pdf docs/pictures/card
