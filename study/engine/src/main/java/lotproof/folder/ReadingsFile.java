package lotproof.folder;

import static lotproof.folder.text.UnitsOfMeasure.plain;

import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import lotproof.folder.text.ReadingColumn;
import lotproof.study.Provenance;
import lotproof.study.Reading;

/** readings.csv, the record. */
final class ReadingsFile {
  static final String NAME = "readings.csv";

  private static final String SOURCE_FILE = "source file";
  private static final String SOURCE_SHEET = "source sheet";
  private static final String SOURCE_HASH = "source hash";
  private static final String SOURCE_ROW = "source row";

  static final RecordFile<Reading> FILE =
      new RecordFile<>(NAME, header(), ReadingsFile::fields, ReadingsFile::reading);

  private ReadingsFile() {}

  private static List<String> header() {
    List<String> header = new ArrayList<>(ReadingColumn.headers());
    header.addAll(List.of(SOURCE_FILE, SOURCE_SHEET, SOURCE_HASH, SOURCE_ROW));
    return header;
  }

  private static List<String> fields(Reading r) {
    List<String> fields = new ArrayList<>(measured(r));
    fields.add(r.source().file());
    fields.add(r.source().sheet());
    fields.add(r.source().sha256());
    fields.add(Integer.toString(r.source().row()));
    return fields;
  }

  /** What a reading says, apart from where it came from; in the order of {@link ReadingColumn}. */
  static List<String> measured(Reading r) {
    return List.of(
        r.session(),
        r.time().map(LocalDateTime::toString).orElse(""),
        r.run(),
        Integer.toString(r.step()),
        r.cell(),
        r.board(),
        plain(r.loadKilograms()),
        plain(r.outputCounts()),
        plain(r.beside().noiseCounts()),
        plain(r.beside().cellTemperatureCelsius()),
        plain(r.beside().boardTemperatureCelsius()),
        r.beside().remark());
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
            line.needed(SOURCE_FILE),
            line.text(SOURCE_SHEET),
            line.hash(SOURCE_HASH),
            line.count(SOURCE_ROW, 1)),
        line.number());
  }

  private static OptionalDouble possible(RecordLine line, ReadingColumn column) {
    String header = column.header();
    OptionalDouble value =
        column.required() ? OptionalDouble.of(line.number(header)) : line.optionalNumber(header);
    if (value.isPresent()) {
      column
          .outOfRange(value.getAsDouble())
          .ifPresent(
              rule ->
                  line.damaged(
                      header, "\"%s\" is impossible: %s".formatted(line.text(header), rule)));
    }
    return value;
  }
}
