#!/bin/sh
# Times the same work in Lotproof (JMH) and in R (lme4), on the same data, one thread each, and prints the ratios.
# Needs R with lme4 (Debian: r-base-core, r-cran-lme4). Run from the top folder, on a machine that does nothing else.
set -eu
top=$(cd "$(dirname "$0")/../.." && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
export OMP_NUM_THREADS=1 OPENBLAS_NUM_THREADS=1

command -v Rscript > /dev/null || { echo "R is not installed; nothing to stand beside" >&2; exit 2; }
Rscript -e 'if (!requireNamespace("lme4", quietly = TRUE)) quit(status = 1)' ||
  { echo "lme4 is not installed for R" >&2; exit 2; }

(cd "$top" && mvn -B -q ${MAVEN_ARGS:-} -Pbenchmarks -DskipTests package)
path="$top/study/benchmarks/target/benchmarks.jar:$top/study/benchmarks/target/lib/*"
java -cp "$path" lotproof.benchmarks.BesideR "$work" > "$work/criteria"
Rscript --vanilla "$(dirname "$0")/beside-r.R" "$work" > "$work/r"
java -XX:ActiveProcessorCount=1 -cp "$path" org.openjdk.jmh.Main \
  'refitOfRotation|profileIntervalsOfRotation|fitOfLargeStudy|twoSidedFactor' \
  -prof gc -rf csv -rff "$work/jmh.csv" > "$work/jmh.log"

echo "R: $(Rscript -e 'cat(R.version.string, "lme4", as.character(packageVersion("lme4")))')"
echo "Java: $(java -version 2>&1 | head -n 1)"
echo "criteria (Lotproof):"; sed 's/^/  /' "$work/criteria"
awk '
  FNR == NR { seconds[$1] = $2; value[$1] = $3; next }
  { gsub(/"/, ""); split($0, f, ","); name = f[1]; score = f[5]; unit = f[7] }
  name ~ /:/ { next }
  name ~ /refitOfRotation$/ { line("refit of a 50 x 50 rotation", seconds["refit"], score / 1e3, 30) }
  name ~ /profileIntervalsOfRotation$/ { line("profile intervals of it", seconds["profile"], score / 1e3, 30) }
  name ~ /fitOfLargeStudy$/ { line("fit of 200,000 readings", seconds["large"], score, 8) }
  name ~ /twoSidedFactor$/ { printf "%-28s %12s %12.4g s %9s   wanted: below 2e-05 s\n", "exact two-sided factor", "", score / 1e6, "" }
  function line(what, r, java, wanted) {
    printf "%-28s %10.4g s %12.4g s %8.1fx   wanted: %dx\n", what, r, java, r / java, wanted
  }
  END { printf "criteria (R): rotation %s, large %s\n", value["criterion-of-rotation"], value["large"]
        print "the large fit ran with a heap of 1 GB (-Xmx1g)" }
' "$work/r" "$work/jmh.csv"
