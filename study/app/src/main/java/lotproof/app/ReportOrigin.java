package lotproof.app;

import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * What a report was made from, and the files that were made; origin.json of a report.
 *
 * @param title title of the study
 * @param recordHash hash of the study file, the readings and the decisions
 * @param version version of the program
 * @param seed the study's seed
 * @param files the files by name, without this one
 */
record ReportOrigin(
    String title, String recordHash, String version, long seed, List<WrittenFile> files) {

  /** A file with the SHA-256 of its bytes. */
  record WrittenFile(String name, String sha256) {}

  ReportOrigin {
    files = List.copyOf(files);
  }

  static ReportOrigin of(AnalysedStudy analysed, Map<String, byte[]> files) {
    return new ReportOrigin(
        analysed.contents().study().title(),
        analysed.contents().recordHash(),
        LotproofCommand.Version.number(),
        analysed.contents().study().seed(),
        files.entrySet().parallelStream()
            .filter(file -> !file.getKey().equals(Evidence.ORIGIN_NAME))
            .map(file -> new WrittenFile(file.getKey(), hash(file.getValue())))
            .toList());
  }

  Optional<String> hashOf(String name) {
    return files.stream()
        .filter(file -> file.name.equals(name))
        .map(WrittenFile::sha256)
        .findFirst();
  }

  static String hash(byte[] content) {
    try {
      return HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(content));
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java knows SHA-256", e);
    }
  }
}
