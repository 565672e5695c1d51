#!/usr/bin/env bash
# Writes the build book of one example and prints the PDF's path alone as the last line.
set -euo pipefail
cd "$(dirname "$0")/.."

project=$1
folder=$2
rm -rf "$folder"
mkdir -p "$folder"
.venv/bin/cordwright book "$project" -o "$folder"

if [ ! -s "$folder/book.pdf" ]; then
    echo "expected the book in $folder/book.pdf" >&2
    exit 1
fi
realpath "$folder/book.pdf"
