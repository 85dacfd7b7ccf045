package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileSystem;
import java.nio.file.FileSystems;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.jar.JarFile;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lotproof.app.cli.Exit;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * What {@code mvn package} makes for users: it is small, it carries what its bill of materials
 * says, and its script starts it from any folder.
 */
class DistributionIT {
  private static final long MOST_BYTES = 35_000_000;
  private static final boolean WINDOWS =
      System.getProperty("os.name").toLowerCase(Locale.ROOT).contains("windows");
  private static final String SCRIPT = WINDOWS ? "lotproof.bat" : "lotproof";

  /** Libraries of which lotproof.jar carries the classes that are used, with their packages. */
  private static final Map<String, String> IN_THE_JAR =
      Map.of(
          "fastutil", "it/unimi/dsi/fastutil/",
          "guava", "com/google/common/",
          "commons-math3", "org/apache/commons/math3/",
          "commons-collections4", "org/apache/commons/collections4/",
          "commons-compress", "org/apache/commons/compress/",
          "pdfbox", "org/apache/pdfbox/",
          "fontbox", "org/apache/fontbox/");

  @TempDir private static Path temp;
  private static Path zip;
  private static Path home;

  /** Unpacks the zip to a folder that has a space in its name, and takes the right to write. */
  @BeforeAll
  static void unpack() throws IOException {
    try (Stream<Path> built = Files.list(Path.of("target"))) {
      zip = built.filter(file -> file.toString().endsWith(".zip")).findFirst().orElseThrow();
    }
    Path folder = Files.createDirectory(temp.resolve("my programs"));
    try (FileSystem packed =
            FileSystems.newFileSystem(zip, Map.of("enablePosixFileAttributes", true));
        Stream<Path> files = Files.walk(packed.getPath("/"))) {
      for (Path from : files.skip(1).toList()) {
        Path to = folder.resolve(from.toString().substring(1));
        Files.copy(from, to);
        if (!WINDOWS && Files.isRegularFile(to)) {
          Files.setPosixFilePermissions(to, Files.getPosixFilePermissions(from));
        }
      }
    }
    home = folder.resolve(zip.getFileName().toString().replace(".zip", ""));
    mayWrite("r-xr-xr-x");
  }

  @AfterAll
  static void allowToDelete() throws IOException {
    mayWrite("rwxr-xr-x");
  }

  private static void mayWrite(String permissions) throws IOException {
    if (!WINDOWS) {
      try (Stream<Path> all = Files.walk(home)) {
        for (Path folder : all.filter(Files::isDirectory).toList()) {
          Files.setPosixFilePermissions(folder, PosixFilePermissions.fromString(permissions));
        }
      }
    }
  }

  @Test
  void zipIsSmall() throws IOException {
    assertThat(Files.size(zip)).isLessThan(MOST_BYTES);
  }

  @Test
  void zipCarriesWhatItsBillOfMaterialsSays() throws IOException {
    JsonNode bill = new ObjectMapper().readTree(home.resolve("bom.json").toFile());
    Set<String> listed = new TreeSet<>();
    for (JsonNode component : bill.get("components")) {
      String name = component.get("name").asText();
      if (IN_THE_JAR.containsKey(name)) {
        try (JarFile jar = new JarFile(home.resolve("lotproof.jar").toFile())) {
          assertThat(jar.stream().map(entry -> entry.getName()))
              .anyMatch(entry -> entry.startsWith(IN_THE_JAR.get(name)));
        }
      } else {
        listed.add(name + "-" + component.get("version").asText() + ".jar");
      }
    }
    assertThat(names(home.resolve("lib"))).isEqualTo(listed);
    String licences = Files.readString(home.resolve("THIRD-PARTY.txt"));
    assertThat(listed)
        .hasSizeGreaterThan(40)
        .allMatch(
            jar ->
                jar.startsWith("lotproof-")
                    || licences.contains(":" + jar.replaceFirst("-(\\d.*)\\.jar", ":$1")));
    assertThat(home.resolve("LICENSE.txt")).hasSameTextualContentAs(docs("LICENSE.txt"));
    assertThat(home.resolve("docs/tutorial.md")).hasSameTextualContentAs(docs("tutorial.md"));
  }

  @Test
  void scriptStartsTheProgramFromAnyFolderAndLeavesItAsItIs() throws Exception {
    Map<Path, String> before = files();
    Path script = home.resolve("bin").resolve(SCRIPT);
    Path report = temp.resolve("the report");
    String javaHome = System.getProperty("java.home");

    String said =
        run(javaHome, script, "report", home.resolve("demo-data/hive-scale"), "--to", report);

    assertThat(said).contains("±34 g");
    assertThat(names(report)).anyMatch(name -> name.endsWith(".xlsx"));
    if (!WINDOWS) {
      Path link = Files.createSymbolicLink(temp.resolve("a link"), script);
      assertThat(status(javaHome, link)).contains("Check standard: steady");
    }
    assertThat(files()).isEqualTo(before);
  }

  @Test
  void newerJavaStartsItWithoutAWarning() throws Exception {
    String other =
        OtherJavaTest.newestOther()
            .map(java -> java.home().toString())
            .orElse(System.getProperty("java.home"));
    assertThat(status(other, home.resolve("bin").resolve(SCRIPT)))
        .contains("Check standard: steady")
        .doesNotContainIgnoringCase("warning:")
        .doesNotContain("CDS", "archive");
  }

  @Test
  void scriptOfTheProjectStartsWhatWasBuilt() throws Exception {
    assertThat(status(System.getProperty("java.home"), Path.of(SCRIPT)))
        .contains("Check standard: steady");
  }

  private static String status(String javaHome, Path script) throws Exception {
    return run(javaHome, script, "status", home.resolve("demo-data/hive-scale"));
  }

  /** What the program said on both of its streams. */
  private static String run(String javaHome, Path script, Object... words) throws Exception {
    List<String> command = new ArrayList<>(List.of(script.toAbsolutePath().toString()));
    Stream.of(words).map(String::valueOf).forEach(command::add);
    ProcessBuilder builder =
        new ProcessBuilder(command).directory(temp.toFile()).redirectErrorStream(true);
    builder.environment().put("JAVA_HOME", javaHome);
    Process process = builder.start();
    try (InputStream out = process.getInputStream()) {
      String said = new String(out.readAllBytes(), StandardCharsets.UTF_8);
      assertThat(process.waitFor()).as(said).isEqualTo(Exit.DONE);
      return said;
    }
  }

  private static Set<String> names(Path folder) throws IOException {
    try (Stream<Path> files = Files.list(folder)) {
      return files
          .map(f -> f.getFileName().toString())
          .collect(Collectors.toCollection(TreeSet::new));
    }
  }

  private static Map<Path, String> files() throws IOException {
    Map<Path, String> files = new TreeMap<>();
    try (Stream<Path> all = Files.walk(home)) {
      for (Path file : all.toList()) {
        files.put(file, Files.size(file) + " " + Files.getLastModifiedTime(file));
      }
    }
    return files;
  }

  private static Path docs(String name) {
    return Path.of("../../docs", name);
  }
}
