package lotproof.folder;

import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.function.Function;
import lotproof.folder.text.CsvText;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.study.ClaimVersion;
import lotproof.study.DataIssue;
import lotproof.study.KeptSeries;
import lotproof.study.WatchLine;
import lotproof.study.WatchVerdict;

/**
 * A file of the study folder to which lines are only added and which enters no figure: the checks
 * of later lots, the versions of the claim, and the series that are kept beside the readings. Of
 * these the series alone enter the hash of the record, for the report shows them.
 *
 * @param <T> what a line holds
 */
final class History<T> {
  static final History<WatchLine> WATCH =
      new History<>(
          "watch.csv",
          List.of(
              "check",
              "date",
              "lot",
              "kits",
              "level",
              "figure [g]",
              "load [kg]",
              "direction",
              "mean [g]",
              "study mean [g]",
              "mean limit [g]",
              "sd [g]",
              "study sd [g]",
              "sd limit [g]",
              "largest [g]",
              "beyond figure",
              "verdict",
              "file",
              "file hash",
              "study hash"),
          History::fields,
          History::watchLine);

  static final History<ClaimVersion> CLAIMS =
      new History<>(
          "claims.csv",
          List.of(
              "version",
              "date",
              "who",
              "level",
              "figure [g]",
              "content",
              "confidence",
              "sentence",
              "study hash"),
          v ->
              List.of(
                  v.version(),
                  v.date(),
                  v.who(),
                  v.level(),
                  text(v.figureGrams()),
                  text(v.content()),
                  text(v.confidence()),
                  v.sentence(),
                  v.studyHash()),
          f ->
              new ClaimVersion(
                  f.get(0),
                  f.get(1),
                  f.get(2),
                  f.get(3),
                  number(f.get(4)),
                  number(f.get(5)),
                  number(f.get(6)),
                  f.get(7),
                  f.get(8)));

  static final History<KeptSeries> SERIES =
      new History<>(
          "series.csv",
          List.of("cell", "board", "load [kg]", "read as", "source file", "source hash"),
          s ->
              List.of(
                  s.cell(), s.board(), text(s.loadKilograms()), s.readAs(), s.file(), s.sha256()),
          f -> new KeptSeries(f.get(0), f.get(1), number(f.get(2)), f.get(3), f.get(4), f.get(5)));

  private final String name;
  private final List<String> header;
  private final Function<T, List<String>> fields;
  private final Function<List<String>, T> line;

  private History(
      String name,
      List<String> header,
      Function<T, List<String>> fields,
      Function<List<String>, T> line) {
    this.name = name;
    this.header = header;
    this.fields = fields;
    this.line = line;
  }

  String name() {
    return name;
  }

  /** Reads all lines; a file of no bytes holds none. */
  List<T> read(byte[] content, List<DataIssue> issues) {
    List<T> lines = new ArrayList<>();
    if (content.length == 0) {
      return lines;
    }
    for (CsvText.Line each : RecordText.lines(name, content, header, issues)) {
      try {
        lines.add(line.apply(each.fields()));
      } catch (IllegalArgumentException e) {
        issues.add(
            DataIssue.error(
                DataIssue.Code.RECORD_DAMAGED,
                name,
                each.number(),
                "",
                "",
                e.getMessage() + "; " + RecordText.ADVICE));
      }
    }
    return lines;
  }

  /** The file with lines added; what it held is kept byte by byte. */
  byte[] append(byte[] content, List<T> added) {
    StringBuilder text = new StringBuilder(content.length == 0 ? CsvText.line(header) : "");
    added.forEach(each -> text.append(CsvText.line(fields.apply(each))));
    byte[] bytes = text.toString().getBytes(StandardCharsets.UTF_8);
    return ByteBuffer.allocate(content.length + bytes.length).put(content).put(bytes).array();
  }

  private static List<String> fields(WatchLine w) {
    return List.of(
        w.check(),
        w.date(),
        w.lot(),
        Integer.toString(w.kits()),
        w.level(),
        text(w.figureGrams()),
        text(w.loadKilograms()),
        w.direction(),
        text(w.meanGrams()),
        text(w.studyMeanGrams()),
        text(w.meanLimitGrams()),
        text(w.sdGrams()),
        text(w.studySdGrams()),
        text(w.sdLimitGrams()),
        text(w.largestGrams()),
        Integer.toString(w.beyond()),
        w.verdict().word(),
        w.file(),
        w.fileHash(),
        w.studyHash());
  }

  private static WatchLine watchLine(List<String> f) {
    return new WatchLine(
        f.get(0),
        f.get(1),
        f.get(2),
        whole(f.get(3)),
        f.get(4),
        number(f.get(5)),
        number(f.get(6)),
        f.get(7),
        number(f.get(8)),
        number(f.get(9)),
        number(f.get(10)),
        optional(f.get(11)),
        number(f.get(12)),
        optional(f.get(13)),
        number(f.get(14)),
        whole(f.get(15)),
        verdict(f.get(16)),
        f.get(17),
        f.get(18),
        f.get(19));
  }

  private static WatchVerdict verdict(String word) {
    for (WatchVerdict verdict : WatchVerdict.values()) {
      if (verdict.word().equals(word)) {
        return verdict;
      }
    }
    throw new IllegalArgumentException("\"" + word + "\" is no verdict");
  }

  private static String text(double value) {
    return UnitsOfMeasure.plain(value);
  }

  private static String text(OptionalDouble value) {
    return value.isPresent() ? text(value.getAsDouble()) : "";
  }

  private static OptionalDouble optional(String text) {
    return text.isEmpty() ? OptionalDouble.empty() : OptionalDouble.of(number(text));
  }

  private static double number(String text) {
    return UnitsOfMeasure.number(text)
        .orElseThrow(() -> new IllegalArgumentException("\"" + text + "\" is not a number"))
        .doubleValue();
  }

  private static int whole(String text) {
    if (!text.matches("[0-9]{1,9}")) {
      throw new IllegalArgumentException("\"" + text + "\" is not a whole number");
    }
    return Integer.parseInt(text);
  }
}
