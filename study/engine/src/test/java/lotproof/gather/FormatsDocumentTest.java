package lotproof.gather;

import static lotproof.folder.Fixtures.opened;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.regex.Pattern;
import lotproof.folder.Appended;
import lotproof.folder.StudyContents;
import lotproof.folder.StudyFolder;
import lotproof.folder.text.ReadingColumn;
import lotproof.folder.text.UnitsOfMeasure.Dimension;
import lotproof.folder.text.UnitsOfMeasure.Unit;
import lotproof.study.Result;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** What docs/formats.md shows is what the program reads. */
class FormatsDocumentTest {
  @TempDir Path root;

  private static String document() throws IOException {
    return Files.readString(Path.of("../../docs/formats.md"));
  }

  private static List<String> blocks(String language) throws IOException {
    return Pattern.compile("```" + language + "\n(.*?)```", Pattern.DOTALL)
        .matcher(document())
        .results()
        .map(match -> match.group(1))
        .toList();
  }

  @Test
  void theExamplesMakeAStudyFolder() throws IOException {
    Path folder = Files.createDirectory(root.resolve("hive-scale"));
    Files.writeString(folder.resolve("study.yaml"), blocks("yaml").get(0));
    Path bench = Files.writeString(root.resolve("bench-01.csv"), blocks("csv").get(0));
    StudyFolder study = StudyFolder.at(folder);

    Result<Appended> outcome = Imports.importFile(study, bench, Imports.TEXT_ONLY);
    Files.writeString(folder.resolve("decisions.csv"), blocks("csv").get(2));
    Files.writeString(folder.resolve("series.csv"), blocks("csv").get(3));

    assertThat(outcome).matches(Imports::isNew);
    assertThat(outcome.issues()).isEmpty();
    StudyContents contents = opened(study);
    assertThat(contents.readings()).hasSize(5);
    assertThat(contents.decisions()).hasSize(5);
    assertThat(contents.series()).hasSize(1);
    List<String> record = Files.readAllLines(folder.resolve("readings.csv"));
    List<String> shown = blocks("csv").get(1).lines().toList();
    assertThat(record.get(0)).isEqualTo(shown.get(0));
    assertThat(record.get(1).replaceFirst("[0-9a-f]{64}", "HASH"))
        .isEqualTo(shown.get(1).replaceFirst("[0-9a-f]{64}", "HASH"));
  }

  @ParameterizedTest
  @EnumSource(ReadingColumn.class)
  void everyColumnIsInTheTable(ReadingColumn column) throws IOException {
    String needed = column.required() ? "yes" : "";
    assertThat(document())
        .containsPattern("\\| `" + Pattern.quote(column.header()) + "` \\| " + needed + " ?\\|");
  }

  @ParameterizedTest
  @EnumSource(Unit.class)
  void everyUnitIsInTheTable(Unit unit) throws IOException {
    Dimension dimension = unit.dimension();
    assertThat(document())
        .containsPattern(
            "\\| " + dimension.words() + " \\| .*`" + Pattern.quote(unit.symbol()) + "`");
  }
}
