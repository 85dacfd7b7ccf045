package lotproof.folder;

import static lotproof.folder.text.UnitsOfMeasure.plain;

import java.time.LocalDateTime;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import java.util.stream.Stream;
import lotproof.folder.RecordFile.Column;
import lotproof.folder.RecordFile.RecordLine;
import lotproof.folder.text.ReadingColumn;
import lotproof.study.ClaimVersion;
import lotproof.study.DataIssue.Code;
import lotproof.study.Decision;
import lotproof.study.KeptSeries;
import lotproof.study.Provenance;
import lotproof.study.Reading;
import lotproof.study.WatchLine;

/** The files of a study that only ever grow, column by column. */
final class RecordFiles {
  /** What a reading says, apart from where it came from. */
  static final List<Column<Reading>> MEASURED =
      List.of(
          measured(ReadingColumn.SESSION, Reading::session),
          measured(ReadingColumn.TIME, r -> r.time().map(LocalDateTime::toString).orElse("")),
          measured(ReadingColumn.RUN, Reading::run),
          measured(ReadingColumn.STEP, r -> Integer.toString(r.step())),
          measured(ReadingColumn.CELL, Reading::cell),
          measured(ReadingColumn.BOARD, Reading::board),
          measured(ReadingColumn.LOAD, r -> plain(r.loadKilograms())),
          measured(ReadingColumn.OUTPUT, r -> plain(r.outputCounts())),
          measured(ReadingColumn.NOISE, r -> plain(r.beside().noiseCounts())),
          measured(ReadingColumn.CELL_TEMPERATURE, r -> plain(r.beside().cellTemperatureCelsius())),
          measured(
              ReadingColumn.BOARD_TEMPERATURE, r -> plain(r.beside().boardTemperatureCelsius())),
          measured(ReadingColumn.REMARK, r -> r.beside().remark()));

  static final RecordFile<Reading> READINGS =
      new RecordFile<>(
          "readings.csv",
          Stream.concat(
                  MEASURED.stream(),
                  Stream.<Column<Reading>>of(
                      column("source file", r -> r.source().file()),
                      column("source sheet", r -> r.source().sheet()),
                      column("source hash", r -> r.source().sha256()),
                      column("source row", r -> Integer.toString(r.source().row()))))
              .toList(),
          RecordFiles::reading);

  static final RecordFile<Decision> DECISIONS =
      new RecordFile<>(
          "decisions.csv",
          List.of(
              column("decision", Decision::id),
              column("time", Decision::time),
              column("who", Decision::who),
              column("action", d -> d.action().key()),
              column("target", d -> d.target().key()),
              column("serial", Decision::serial),
              column("field", d -> d.field().orElse("")),
              column("value", d -> d.value().orElse("")),
              column("cause", Decision::cause),
              column("evidence", Decision::evidence)),
          RecordFiles::decision);

  static final RecordFile<KeptSeries> SERIES =
      new RecordFile<>(
          "series.csv",
          List.of(
              column("cell", KeptSeries::cell),
              column("board", KeptSeries::board),
              column("load [kg]", s -> plain(s.loadKilograms())),
              column("read as", KeptSeries::readAs),
              column("source file", KeptSeries::file),
              column("source hash", KeptSeries::sha256)),
          line ->
              new KeptSeries(
                  line.text("cell"),
                  line.text("board"),
                  line.number("load [kg]"),
                  line.text("read as"),
                  line.text("source file"),
                  line.text("source hash")));

  static final RecordFile<WatchLine> WATCH =
      new RecordFile<>(
          "watch.csv",
          List.of(
              column("check", WatchLine::check),
              column("date", WatchLine::date),
              column("lot", WatchLine::lot),
              column("kits", w -> Integer.toString(w.kits().measured())),
              column("level", WatchLine::level),
              column("figure [g]", w -> plain(w.figureGrams())),
              column("load [kg]", w -> plain(w.loadKilograms())),
              column("direction", WatchLine::direction),
              column("mean [g]", w -> plain(w.mean().grams())),
              column("study mean [g]", w -> plain(w.mean().studyGrams())),
              column("mean limit [g]", w -> plain(w.mean().limitGrams())),
              column("sd [g]", w -> plain(w.spread().grams())),
              column("study sd [g]", w -> plain(w.spread().studyGrams())),
              column("sd limit [g]", w -> plain(w.spread().limitGrams())),
              column("largest [g]", w -> plain(w.kits().largestGrams())),
              column("beyond figure", w -> Integer.toString(w.kits().beyond())),
              column("verdict", w -> w.verdict().key()),
              column("file", w -> w.source().file()),
              column("file hash", w -> w.source().fileHash()),
              column("study hash", w -> w.source().studyHash())),
          RecordFiles::watchLine);

  static final RecordFile<ClaimVersion> CLAIMS =
      new RecordFile<>(
          "claims.csv",
          List.of(
              column("version", ClaimVersion::version),
              column("date", ClaimVersion::date),
              column("who", ClaimVersion::who),
              column("level", ClaimVersion::level),
              column("figure [g]", v -> plain(v.figureGrams())),
              column("content", v -> plain(v.content())),
              column("confidence", v -> plain(v.confidence())),
              column("sentence", ClaimVersion::sentence),
              column("study hash", ClaimVersion::studyHash)),
          line ->
              new ClaimVersion(
                  line.text("version"),
                  line.text("date"),
                  line.text("who"),
                  line.text("level"),
                  line.number("figure [g]"),
                  line.number("content"),
                  line.number("confidence"),
                  line.text("sentence"),
                  line.text("study hash")));

  private RecordFiles() {}

  private static <T> Column<T> column(String header, Function<T, String> text) {
    return new Column<>(header, text);
  }

  private static Column<Reading> measured(ReadingColumn column, Function<Reading, String> text) {
    return new Column<>(column.header(), text);
  }

  private static Reading reading(RecordLine line) {
    return new Reading(
        line.text(ReadingColumn.SESSION.header()),
        line.time(ReadingColumn.TIME.header()),
        line.needed(ReadingColumn.RUN.header()),
        line.count(ReadingColumn.STEP.header(), 1),
        line.needed(ReadingColumn.CELL.header()),
        line.needed(ReadingColumn.BOARD.header()),
        possible(line, ReadingColumn.LOAD).orElse(0),
        possible(line, ReadingColumn.OUTPUT).orElse(0),
        new Reading.Beside(
            possible(line, ReadingColumn.NOISE),
            possible(line, ReadingColumn.CELL_TEMPERATURE),
            possible(line, ReadingColumn.BOARD_TEMPERATURE),
            line.text(ReadingColumn.REMARK.header())),
        new Provenance(
            line.needed("source file"),
            line.text("source sheet"),
            line.hash("source hash"),
            line.count("source row", 1)),
        line.number());
  }

  private static OptionalDouble possible(RecordLine line, ReadingColumn column) {
    String header = column.header();
    OptionalDouble value =
        column.required() ? OptionalDouble.of(line.number(header)) : line.optionalNumber(header);
    value.stream()
        .mapToObj(column::outOfRange)
        .flatMap(Optional::stream)
        .map(rule -> "\"" + line.text(header) + "\" is impossible: " + rule)
        .forEach(what -> line.damaged(header, what));
    return value;
  }

  private static Decision decision(RecordLine line) {
    for (String needed : List.of("decision", "serial")) {
      if (line.text(needed).isBlank()) {
        line.report(Code.DECISION_INVALID, needed, "the value is missing");
      }
    }
    return new Decision(
        line.text("decision"),
        line.text("time"),
        line.text("who"),
        line.constant("action", Decision.Action.values(), Code.DECISION_INVALID),
        line.constant("target", Decision.Target.values(), Code.DECISION_INVALID),
        line.text("serial"),
        line.optional("field"),
        line.optional("value"),
        line.text("cause"),
        line.text("evidence"),
        line.number());
  }

  private static WatchLine watchLine(RecordLine line) {
    return new WatchLine(
        line.text("check"),
        line.text("date"),
        line.text("lot"),
        new WatchLine.Kits(
            line.count("kits", 1), line.number("largest [g]"), line.count("beyond figure", 0)),
        line.text("level"),
        line.number("figure [g]"),
        line.number("load [kg]"),
        line.text("direction"),
        new WatchLine.Mean(
            line.number("mean [g]"), line.number("study mean [g]"), line.number("mean limit [g]")),
        new WatchLine.Spread(
            line.optionalNumber("sd [g]"),
            line.number("study sd [g]"),
            line.optionalNumber("sd limit [g]")),
        line.constant("verdict", WatchLine.Verdict.values(), Code.RECORD_DAMAGED),
        new WatchLine.Source(line.text("file"), line.text("file hash"), line.text("study hash")));
  }
}
