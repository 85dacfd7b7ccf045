package lotproof.app;

import java.io.File;
import java.io.IOException;
import java.net.URISyntaxException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * Starts the program in a Java machine that suits it: with the classes that the build has prepared
 * (class-data sharing), and for short work with the quick compiler alone. Without this, half of the
 * processor time of a report goes into loading and optimising code that runs once.
 *
 * <p>A person who gives options to the Java machine ({@code java -Xmx2g -jar ...}) knows better:
 * the program then runs right here, as it does where the options cannot be seen or no second
 * machine can be started.
 */
public final class Launcher {
  /** Commands whose work is long enough to be worth optimising. */
  static final Set<String> LONG_WORK = Set.of("rehearse", "plan", "noise", "import");

  static final Set<String> HELP = Set.of("-h", "--help", "-V", "--version");

  /** A record larger than this, in bytes, is long work for any command. */
  static final long LARGE_RECORD = 4_000_000;

  /**
   * The prepared classes where they were laid out (a fresh place each time costs more than all else
   * in a start), and no word about an archive or large pages that another machine cannot use.
   */
  static final List<String> OPTIONS =
      List.of(
          "-XX:+IgnoreUnrecognizedVMOptions",
          "-XX:+UnlockDiagnosticVMOptions",
          "-XX:ArchiveRelocationMode=0",
          "-XX:+UseSerialGC",
          "-Xshare:auto",
          "-Xlog:disable",
          "-Xlog:all=error:stderr",
          "-XX:-UsePerfData",
          "-XX:-PrintWarnings");

  /**
   * The quick compiler alone, and early, for what runs a thousand times; it inlines little, except
   * in the hashes of files, and leaves out a table of characters that is filled once; few classes
   * made to replace reflection; no collection just because many classes were loaded; memory in
   * large pages, and little of it, since the system clears each page before the first use. The
   * script {@code lotproof} has the same.
   */
  static final List<String> SHORT_WORK_OPTIONS =
      List.of(
          "-XX:TieredStopAtLevel=1",
          "-XX:C1MaxInlineSize=15",
          "-XX:Tier3InvocationThreshold=150",
          "-XX:Tier3MinInvocationThreshold=80",
          "-XX:Tier3CompileThreshold=800",
          "-XX:Tier3BackEdgeThreshold=8000",
          "-XX:CompileCommand=quiet",
          "-XX:CompileCommand=inline,sun.security.provider.SHA2::*",
          "-XX:CompileCommand=exclude,org.apache.xmlbeans.impl.common.XMLChar::<clinit>",
          "-Dsun.reflect.inflationThreshold=500",
          "-XX:MetaspaceSize=200m",
          "-XX:+UseTransparentHugePages",
          "-Xms300m",
          "-Xmn150m");

  /**
   * One thread that compiles, where two would wake each other and take the cores from the work for
   * each of thousands of methods. What waits to be compiled is then shared by no second thread, so
   * that it holds new methods back half as much.
   */
  static final List<String> FEW_CORES_OPTIONS =
      List.of(
          "-XX:CICompilerCount=1",
          "-XX:-UseDynamicNumberOfCompilerThreads",
          "-XX:Tier3LoadFeedback=10");

  /** Up to so many cores they are few. */
  private static final int FEW_CORES = 2;

  /** Memory in bytes that the report of half a million readings keeps within. */
  private static final long LARGE_STUDY_MEMORY = 2_000_000_000;

  private Launcher() {}

  public static void main(String[] args) {
    Path jar = jar();
    if (jar == null || !pays(jar, args) || !plainlyStarted()) {
      Main.main(args);
      return;
    }
    int exit;
    try {
      exit = started(command(jar, args));
    } catch (IOException | RuntimeException e) {
      // no second machine can be started
      Main.main(args);
      return;
    }
    System.exit(exit);
  }

  /** Help is so short that only prepared classes make up for starting a second machine. */
  static boolean pays(Path jar, String... args) {
    return Files.isRegularFile(archive(jar)) || !onlyAsksForHelp(args);
  }

  private static Path archive(Path jar) {
    return jar.resolveSibling("lotproof.jsa");
  }

  private static boolean onlyAsksForHelp(String... args) {
    return args.length == 0 || Arrays.stream(args).anyMatch(HELP::contains);
  }

  /** The jar that this class came from, or null when it came from a folder. */
  private static @Nullable Path jar() {
    try {
      Path place =
          Path.of(Launcher.class.getProtectionDomain().getCodeSource().getLocation().toURI());
      return Files.isRegularFile(place) ? place : null;
    } catch (URISyntaxException | RuntimeException e) {
      return null;
    }
  }

  /** True when the Java machine was started as {@code java -jar JAR ...}, without more options. */
  private static boolean plainlyStarted() {
    String[] words = ProcessHandle.current().info().arguments().orElse(new String[0]);
    boolean plain = words.length > 0 && words[0].equals("-jar");
    return plain && System.getenv("JAVA_TOOL_OPTIONS") == null;
  }

  static List<String> command(Path jar, String... args) {
    return command(Runtime.getRuntime().availableProcessors(), jar, args);
  }

  static List<String> command(int cores, Path jar, String... args) {
    List<String> command = new ArrayList<>();
    command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
    command.addAll(OPTIONS);
    Path archive = archive(jar);
    if (Files.isRegularFile(archive)) {
      command.add("-XX:SharedArchiveFile=" + archive);
    }
    boolean longWork = args.length > 0 && LONG_WORK.contains(args[0]);
    if (!longWork && largeRecord(args)) {
      command.add("-Xmx" + LARGE_STUDY_MEMORY);
    } else if (!longWork) {
      command.addAll(SHORT_WORK_OPTIONS);
      if (cores <= FEW_CORES) {
        command.addAll(FEW_CORES_OPTIONS);
      }
    }
    command.add("-cp");
    command.add(jar.toString());
    command.add(Main.class.getName());
    command.addAll(List.of(args));
    return command;
  }

  private static boolean largeRecord(String... args) {
    for (String word : args) {
      File record = new File(word, "readings.csv");
      File file = record.isFile() ? record : new File(word);
      if (file.isFile() && file.length() > LARGE_RECORD) {
        return true;
      }
    }
    return false;
  }

  private static int started(List<String> command) throws IOException {
    Process program = new ProcessBuilder(command).inheritIO().start();
    Runtime.getRuntime().addShutdownHook(new Thread(program::destroy));
    while (true) {
      try {
        return program.waitFor();
      } catch (InterruptedException e) {
        program.destroy();
      }
    }
  }
}
