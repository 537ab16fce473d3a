#!/usr/bin/env bash
# Runs one browser test of page/tests beside the packages that the page was built with.
#   run_page_test.sh SOURCE BUILD SCRIPT [ARGUMENTS...]
set -euo pipefail
source=$1
build=$2
script=$3
shift 3
# A folder of its own: packages are looked for upwards from the script, and tests run side by side.
here=$build/page/test-$script
rm -rf "$here"
mkdir -p "$here"
cp -r "$source/page/tests/." "$here"
cd "$here"
exec node "$here/$script" "$@"
