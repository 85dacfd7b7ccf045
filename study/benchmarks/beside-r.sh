#!/bin/sh
# Times the same work in Lotproof (JMH) and in R (lme4), on the same data, one thread each, and prints the ratios.
# Needs R with lme4 (Debian: r-base-core, r-cran-lme4). Run from the top folder. Takes about five minutes; MAVEN_ARGS goes to Maven.
# Ratios are given by the clock and by processor time; on a machine that has other work too, the second is the one to read.
set -eu
top=$(cd "$(dirname "$0")/../.." && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
export OMP_NUM_THREADS=1 OPENBLAS_NUM_THREADS=1

command -v Rscript > /dev/null || { echo "R is not installed; nothing to stand beside" >&2; exit 2; }
Rscript -e 'if (!requireNamespace("lme4", quietly = TRUE)) quit(status = 1)' ||
  { echo "lme4 is not installed for R" >&2; exit 2; }

(cd "$top" && mvn -B -q ${MAVEN_ARGS:-} -Pbenchmarks -pl study/benchmarks -am -DskipTests package)
path="$top/study/benchmarks/target/benchmarks.jar:$top/study/benchmarks/target/lib/*"
java -cp "$path" lotproof.benchmarks.BesideR "$work" > "$work/criteria"
Rscript --vanilla "$(dirname "$0")/beside-r.R" "$work" > "$work/r" 2> "$work/r-messages" || { cat "$work/r-messages" >&2; exit 3; }
java -XX:+UseSerialGC -cp "$path" org.openjdk.jmh.Main \
  'refitOfRotation|profileIntervalsOfRotation|fitOfLargeStudy|twoSidedFactor' \
  -prof lotproof.benchmarks.ProcessorTime -rf csv -rff "$work/jmh.csv" > "$work/jmh.log" || { cat "$work/jmh.log" >&2; exit 3; }

echo "R: $(Rscript -e 'cat(R.version.string, "lme4", as.character(packageVersion("lme4")))')"
echo "Java: $(java -version 2>&1 | head -n 1)"
awk '
  NR == FNR { criterion[$1] = $2; next }
  FILENAME ~ /\/r$/ { clock[$1] = $2; processor[$1] = $3; value[$1] = $4; next }
  { gsub(/"/, ""); split($0, f, ","); name = f[1]; score = f[5]; unit = f[7]
    own = name !~ /:/
    sub(/^.*\./, "", name); sub(/:.*$/, "", name)
    if (unit ~ /^ms/) score /= 1e3
    if (unit ~ /^us/) score /= 1e6
    if (own) java[name] = score; else if ($0 ~ /:processor/) used[name] = score }
  END {
    printf "criteria by Lotproof and by R: rotation %s %s, large study %s %s\n",
      criterion["criterion-of-rotation"], value["criterion-of-rotation"], criterion["criterion-of-large"], value["large"]
    printf "%-36s %11s %11s %9s %11s %11s %9s  %s\n", "seconds", "R clock", "Java clock", "ratio", "R proc.", "Java proc.", "ratio", "wanted"
    line("refit of a 50 x 50 rotation", "refit", "refitOfRotation", ">= 30")
    line("its profile intervals", "profile", "profileIntervalsOfRotation", ">= 30")
    line("fit of 200,000 readings, heap 768 MB", "large", "fitOfLargeStudy", ">= 8")
    printf "%-36s %11s %11.3g %9s %11s %11.3g %9s  %s\n", "exact two-sided factor", "", java["twoSidedFactor"], "", "", used["twoSidedFactor"], "", "< 2e-05 s" }
  function line(what, r, j, wanted) {
    printf "%-36s %11.4g %11.4g %8.1fx %11.4g %11.4g %8.1fx  %s\n", what, clock[r], java[j], clock[r] / java[j],
      processor[r], used[j], processor[r] / used[j], wanted
  }
' "$work/criteria" "$work/r" "$work/jmh.csv"
