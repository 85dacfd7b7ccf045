package lotproof.app.results;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.DigestOutputStream;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import lotproof.app.cli.Version;

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

  static ReportOrigin of(AnalysedStudy analysed, Map<String, String> hashes) {
    return new ReportOrigin(
        analysed.contents().study().title(),
        analysed.contents().recordHash(),
        Version.number(),
        analysed.contents().study().seed(),
        new TreeMap<>(hashes)
            .entrySet().stream()
                .map(file -> new WrittenFile(file.getKey(), file.getValue()))
                .toList());
  }

  Optional<String> hashOf(String name) {
    return files.stream()
        .filter(file -> file.name.equals(name))
        .map(WrittenFile::sha256)
        .findFirst();
  }

  /** Hash of a file's bytes. */
  static String hash(Path file) {
    MessageDigest digest = digest();
    try (InputStream in = Files.newInputStream(file)) {
      in.transferTo(new DigestOutputStream(OutputStream.nullOutputStream(), digest));
    } catch (IOException e) {
      throw new UncheckedIOException("cannot read " + file, e);
    }
    return hash(digest);
  }

  static String hash(MessageDigest digest) {
    return HexFormat.of().formatHex(digest.digest());
  }

  static MessageDigest digest() {
    try {
      return MessageDigest.getInstance("SHA-256");
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java knows SHA-256", e);
    }
  }
}
