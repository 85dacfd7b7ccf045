package lotproof.app.packaging;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Prepares the classes of the program for quick starts (class-data sharing); run by the build. A
 * first Java machine does {@link TypicalWork} and lists the classes, a second one lays them out.
 *
 * <p>Call sites that involve classes older than Java 6 are left out of the list: Java 17 does not
 * prepare such classes and can crash over what hangs on them. Without an archive the program only
 * starts later, so that a machine that cannot make one does not stop the build.
 */
final class PreparedClasses {
  /** Class file version of Java 6, the first that is prepared. */
  private static final int JAVA_6 = 50;

  private static final String CALL_SITE = "@lambda-proxy";
  private static final Pattern NAME = Pattern.compile("L([^;()]+);|(?<= )([\\w/$]+)(?= |$)");

  private final Path folder;
  private final Path list;

  private PreparedClasses(Path folder) {
    this.folder = folder;
    this.list = folder.resolve("lotproof.classes");
  }

  /** Takes the folder with lotproof.jar, where the archive goes, and the folder of a study. */
  public static void main(String[] args) throws IOException, InterruptedException {
    PreparedClasses work = new PreparedClasses(Path.of(args[0]));
    int exit = work.listed(args[1]);
    if (exit != 0) {
      System.exit(exit);
    }
    Path archive = work.folder.resolve("lotproof.jsa");
    Files.deleteIfExists(archive);
    Files.write(work.list, usable(Files.readAllLines(work.list)));
    if (work.laidOut(archive) != 0) {
      Files.deleteIfExists(archive);
      System.err.println("classes could not be prepared; the program works and starts later");
    }
  }

  private int listed(String study) throws IOException, InterruptedException {
    return java(
        "list-classes.log",
        "-XX:+UseSerialGC",
        "-XX:TieredStopAtLevel=1",
        "-Xshare:off",
        "-XX:DumpLoadedClassList=" + list,
        TypicalWork.class.getName(),
        study,
        folder.resolve("prepared-classes").toString());
  }

  private int laidOut(Path archive) throws IOException, InterruptedException {
    return java(
        "prepare-classes.log",
        "-Xshare:dump",
        "-XX:SharedClassListFile=" + list,
        "-XX:SharedArchiveFile=" + archive);
  }

  private int java(String log, String... words) throws IOException, InterruptedException {
    List<String> command = new ArrayList<>();
    command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
    command.add("-cp");
    command.add(folder.resolve("lotproof.jar").toString());
    command.addAll(List.of(words));
    return new ProcessBuilder(command)
        .directory(folder.toFile())
        .redirectErrorStream(true)
        .redirectOutput(folder.resolve(log).toFile())
        .start()
        .waitFor();
  }

  /** The lines without call sites of old classes. */
  static List<String> usable(List<String> lines) {
    Map<String, Boolean> old = new HashMap<>();
    return lines.stream()
        .filter(line -> !line.startsWith(CALL_SITE) || !namesOld(line, old))
        .toList();
  }

  private static boolean namesOld(String line, Map<String, Boolean> old) {
    Matcher names = NAME.matcher(line);
    while (names.find()) {
      String name = names.group(1) == null ? names.group(2) : names.group(1);
      if (old.computeIfAbsent(name, PreparedClasses::isOld)) {
        return true;
      }
    }
    return false;
  }

  /** True for a class with a class file older than Java 6; false for what is no class. */
  static boolean isOld(String name) {
    try (InputStream in = ClassLoader.getSystemResourceAsStream(name + ".class")) {
      if (in == null) {
        return false;
      }
      byte[] head = in.readNBytes(8);
      return ((head[6] & 0xff) << 8 | (head[7] & 0xff)) < JAVA_6;
    } catch (IOException e) {
      return false;
    }
  }
}
