package lotproof.folder.definition;

import com.fasterxml.jackson.core.JsonPointer;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import lotproof.folder.text.CsvText;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;
import lotproof.study.Study;

/** study.yaml: text to definition and back. */
public final class StudyFile {
  /** Its name in the study folder. */
  public static final String NAME = "study.yaml";

  private StudyFile() {}

  /**
   * Reads a definition. Every problem that can be found is an issue with line and column; reading
   * never stops at the first, except where the text is no YAML.
   */
  public static Result<Study> read(String fileName, byte[] content) {
    OptionalInt broken = CsvText.notUtf8(ByteBuffer.wrap(content));
    if (broken.isPresent()) {
      return refused(Code.FILE_UNREADABLE, fileName, broken.getAsInt(), "a byte is not UTF-8 text");
    }
    int mark = CsvText.markLength(content);
    String text = new String(content, mark, content.length - mark, StandardCharsets.UTF_8);
    if (text.isBlank()) {
      return refused(Code.FILE_EMPTY, fileName, 0, "the file is empty; it must define a study");
    }
    Result<YamlTree> read = YamlTree.read(fileName, text);
    if (read.isRefused()) {
      return Result.refused(read.issues());
    }
    YamlTree tree = read.get();
    Optional<Study> study = new StudyReader().study(new StudySection(tree, JsonPointer.empty()));
    StudySchema.check(tree);
    List<DataIssue> issues =
        tree.issues().stream()
            .sorted(
                Comparator.comparingInt(DataIssue::line)
                    .thenComparingInt(issue -> Integer.parseInt(issue.column())))
            .toList();
    return issues.isEmpty() ? Result.of(study.orElseThrow()) : Result.refused(issues);
  }

  /** The definition as text that {@link #read} turns into the same definition. */
  public static String write(Study study) {
    return StudyWriter.write(study);
  }

  private static Result<Study> refused(Code code, String file, int line, String message) {
    return Result.refused(code, file, line, message);
  }
}
