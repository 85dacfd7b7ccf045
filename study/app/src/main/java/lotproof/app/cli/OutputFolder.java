package lotproof.app.cli;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.security.DigestOutputStream;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.concurrent.ConcurrentSkipListMap;
import java.util.function.Consumer;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lotproof.folder.StudyContents;
import lotproof.folder.definition.StudyFile;
import lotproof.report.OutputSink;
import lotproof.report.data.ResultJson;
import lotproof.report.text.SanitizedText;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;
import lotproof.study.Study;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/**
 * A folder that a command fills with its own files alone. They are written into a folder beside it,
 * which then takes its place, so that it always holds one whole output. What a person put or
 * changed there is never lost unless they said so.
 */
public final class OutputFolder {
  /** Lists the files of an output, in its folder. */
  public static final String MANIFEST = "origin.json";

  /** What file managers leave in folders that were looked at. */
  private static final Set<String> LEFT_BY_FILE_MANAGERS =
      Set.of(".DS_Store", "Thumbs.db", "desktop.ini");

  private static final int MOST_NAMED = 5;
  private static final String NO_MANIFEST = "this does not say where a report came from";

  @Option(names = "--to", paramLabel = "DIR")
  private @Nullable Path to;

  @Option(names = "--replace")
  private boolean replace;

  /**
   * What an output was made from, and the files that were made.
   *
   * @param command that made it, such as {@code report}
   * @param title of the study; of captures without a study their file names
   * @param recordHash of the study; empty without one
   */
  public record Manifest(
      String command,
      String title,
      String recordHash,
      String version,
      long seed,
      List<WrittenFile> files) {
    public Manifest {
      Objects.requireNonNull(command, "command");
      Objects.requireNonNull(title, "title");
      Objects.requireNonNull(recordHash, "recordHash");
      Objects.requireNonNull(version, "version");
      files = List.copyOf(files);
    }

    /** Of an output of a study that is still to be written. */
    public static Manifest of(String command, StudyContents contents) {
      Study study = contents.study();
      return new Manifest(
          command,
          study.title(),
          contents.recordHash(),
          Origin.programVersion(),
          study.seed(),
          List.of());
    }

    /** The same with its files. */
    private Manifest with(SortedMap<String, String> hashes) {
      List<WrittenFile> written = new ArrayList<>();
      hashes.forEach((name, hash) -> written.add(new WrittenFile(name, hash)));
      return new Manifest(command, title, recordHash, version, seed, written);
    }

    /** SHA-256 by name. */
    public Map<String, String> hashes() {
      return files.stream().collect(Collectors.toMap(WrittenFile::name, WrittenFile::sha256));
    }
  }

  /** A file with the SHA-256 of its bytes. */
  public record WrittenFile(String name, String sha256) {
    public WrittenFile {
      OutputSink.checkedName(name);
      Objects.requireNonNull(sha256, "sha256");
    }
  }

  /** What makes files; also from several threads at once. */
  public interface Writer extends Consumer<OutputSink> {}

  /**
   * Makes all files of an output and its manifest.
   *
   * @return SHA-256 by name
   */
  public static SortedMap<String, String> write(Manifest madeFrom, Writer writer, OutputSink sink) {
    SortedMap<String, String> hashes = new ConcurrentSkipListMap<>();
    OutputSink hashing = (name, to) -> sink.put(name, out -> hashes.put(name, hash(to, out)));
    writer.accept(hashing);
    Manifest manifest = madeFrom.with(new TreeMap<>(hashes));
    hashing.put(MANIFEST, out -> ResultJson.write(manifest, out));
    return hashes;
  }

  /** Whether {@code --to} was given. */
  public boolean asked() {
    return to != null;
  }

  /**
   * The folder that was named, or else this one; ends the command where it cannot take an output of
   * a command.
   */
  public Path checked(String command, Path usual) {
    Path folder = to == null ? usual : to;
    CliCommand.refuse(folder.toString().isBlank(), "--to names no folder");
    CliCommand.refuse(
        Files.exists(folder) && !Files.isDirectory(folder),
        "--to " + folder + " is a file; name a folder");
    CliCommand.refuse(
        files(folder).stream().anyMatch(name -> name.matches("(.*/)?" + StudyFile.NAME)),
        folder + " holds a study, which no output replaces; name another folder");
    if (!replace) {
      refuseForeign(folder, command);
    }
    return folder;
  }

  /** Ends the command where a folder holds what another run of it would not make again. */
  private static void refuseForeign(Path folder, String command) {
    List<String> files = files(folder);
    if (files.isEmpty()) {
      return;
    }
    Optional<Manifest> known = read(folder).value();
    Map<String, String> hashes = known.map(Manifest::hashes).orElse(Map.of());
    List<String> foreign =
        files.stream()
            .filter(name -> known.isEmpty() || !name.equals(MANIFEST))
            .filter(name -> !hashOf(folder.resolve(name)).equals(hashes.get(name)))
            .toList();
    String named = folder + " holds ";
    String cure = "; name another folder, or add --replace to lose it";
    if (known.isPresent() && !known.get().command().equals(command)) {
      throw new UnusableException(
          named + "what lotproof " + SanitizedText.clean(known.get().command()) + " wrote" + cure);
    }
    if (!foreign.isEmpty()) {
      int more = foreign.size() - MOST_NAMED;
      throw new UnusableException(
          named
              + "what lotproof did not write, or what was changed since: "
              + foreign.stream()
                  .limit(MOST_NAMED)
                  .map(SanitizedText::clean)
                  .collect(Collectors.joining(", "))
              + (more > 0 ? " and " + more + " more" : "")
              + cure);
    }
  }

  /**
   * Fills a folder with an output; what stood there before is gone then.
   *
   * @return names of the files
   */
  public static Set<String> fill(Path folder, Manifest madeFrom, Writer writer) {
    try {
      Path place = Files.exists(folder) ? folder.toRealPath() : folder.toAbsolutePath().normalize();
      Path parent = place.getParent();
      if (parent == null) {
        throw new UnusableException("--to " + folder + " is the root of a disk; name a folder");
      }
      Files.createDirectories(parent);
      Path unfinished = parent.resolve("." + place.getFileName() + ".unfinished");
      Path before = parent.resolve("." + place.getFileName() + ".before");
      if (Files.exists(before) && !Files.exists(place)) {
        Files.move(before, place);
      }
      delete(before);
      delete(unfinished);
      try {
        Files.createDirectory(unfinished);
        Set<String> names = write(madeFrom, writer, OutputSink.folder(unfinished)).keySet();
        if (Files.exists(place)) {
          Files.move(place, before);
        }
        Files.move(unfinished, place);
        delete(before);
        return names;
      } finally {
        delete(unfinished);
      }
    } catch (IOException e) {
      throw new UncheckedIOException("cannot write " + folder, e);
    }
  }

  /** Names of all files in a folder and below it, except what file managers leave. */
  public static List<String> files(Path folder) {
    if (!Files.isDirectory(folder)) {
      return List.of();
    }
    try (Stream<Path> all = Files.walk(folder)) {
      return all.filter(path -> !Files.isDirectory(path, LinkOption.NOFOLLOW_LINKS))
          .filter(path -> !LEFT_BY_FILE_MANAGERS.contains(path.getFileName().toString()))
          .map(path -> folder.relativize(path).toString().replace('\\', '/'))
          .sorted()
          .toList();
    } catch (IOException e) {
      throw new UncheckedIOException("cannot read " + folder, e);
    }
  }

  /** What an output was made from; ends the command where a folder does not say so. */
  public static Manifest manifest(Path folder) {
    return UnusableException.needed(read(folder));
  }

  private static Result<Manifest> read(Path folder) {
    Path file = folder.resolve(MANIFEST);
    String place = SanitizedText.clean(file.toString());
    try {
      Manifest manifest = new ObjectMapper().readValue(file.toFile(), Manifest.class);
      return manifest == null
          ? Result.refused(Code.FILE_UNREADABLE, place, NO_MANIFEST)
          : Result.of(manifest);
    } catch (JsonProcessingException e) {
      int line = e.getLocation() == null ? 0 : e.getLocation().getLineNr();
      return Result.refused(Code.FILE_UNREADABLE, place, Math.max(0, line), NO_MANIFEST);
    } catch (IOException e) {
      return Result.refused(Code.FILE_UNREADABLE, place, "it cannot be read: " + e.getMessage());
    }
  }

  /** SHA-256 of a file; empty for what is no regular file. */
  public static String hashOf(Path file) {
    if (!Files.isRegularFile(file, LinkOption.NOFOLLOW_LINKS)) {
      return "";
    }
    try (InputStream in = Files.newInputStream(file)) {
      return hash(in::transferTo, OutputStream.nullOutputStream());
    } catch (IOException e) {
      throw new UncheckedIOException("cannot read " + file, e);
    }
  }

  /** SHA-256 of what is written on. */
  private static String hash(OutputSink.Content content, OutputStream out) throws IOException {
    try {
      MessageDigest digest = MessageDigest.getInstance("SHA-256");
      content.writeTo(new DigestOutputStream(out, digest));
      return HexFormat.of().formatHex(digest.digest());
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java knows SHA-256", e);
    }
  }

  private static void delete(Path folder) throws IOException {
    if (!Files.exists(folder, LinkOption.NOFOLLOW_LINKS)) {
      return;
    }
    List<Path> deepestFirst;
    try (Stream<Path> all = Files.walk(folder)) {
      deepestFirst = all.sorted(Comparator.reverseOrder()).toList();
    }
    for (Path path : deepestFirst) {
      Files.delete(path);
    }
  }
}
