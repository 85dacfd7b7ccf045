package lotproof.app;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import lotproof.app.cli.Exit;

/**
 * A document whose commands are real. It holds, in this order and as often as needed:
 *
 * <ul>
 *   <li>a file: a comment {@code <!-- file: NAME -->} and a fenced block with its content;
 *   <li>a command: a fenced block {@code sh} with one line, a comment {@code <!-- output: all -->}
 *       or {@code <!-- output: 3 from "some words"; 1 from "other words" -->}, and a fenced block
 *       {@code text} with what it printed: all of it, or so many lines from the first that holds
 *       those words.
 * </ul>
 */
final class Tutorial {
  static final Path DOCUMENT = Path.of("..", "..", "docs", "tutorial.md");
  static final Path BENCH = Path.of("..", "..", "docs", "tutorial", "bench-01.csv");

  private static final Pattern STEP =
      Pattern.compile(
          "<!-- file: (?<name>\\S+) -->\\n```\\w*\\n(?<content>.*?)```\\n"
              + "|```sh\\n(?<command>[^\\n]*)\\n```\\n\\n(?<rule><!-- output: [^\\n]* -->)\\n"
              + "```text\\n(?<shown>.*?)```\\n",
          Pattern.DOTALL);
  private static final Pattern EXCERPT = Pattern.compile("(\\d+) from \"([^\"]*)\"");
  private static final Pattern WORD = Pattern.compile("\"([^\"]*)\"|(\\S+)");

  private Tutorial() {}

  /** Writes the document anew, with what the commands print now. */
  public static void main(String[] args) throws IOException, InterruptedException {
    Path document = Path.of(args[0]);
    Path folder = Files.createTempDirectory("tutorial");
    Files.writeString(folder.resolve("bench-01.csv"), TutorialData.bench());
    Files.writeString(document, performed(Files.readString(document), folder));
  }

  /** The document with what its commands print now, run in this folder one after the other. */
  static String performed(String document, Path folder) throws IOException, InterruptedException {
    StringBuilder performed = new StringBuilder();
    Matcher step = STEP.matcher(document);
    int from = 0;
    while (step.find()) {
      performed.append(document, from, step.start());
      from = step.end();
      if (step.group("name") != null) {
        Path file = folder.resolve(step.group("name"));
        Files.createDirectories(file.getParent());
        Files.writeString(file, step.group("content"));
        performed.append(step.group());
      } else {
        String output = output(step.group("command"), folder);
        performed.append(document, step.start(), step.start("shown"));
        performed.append(excerpt(step.group("rule"), output)).append("```\n");
      }
    }
    return performed.append(document.substring(from)).toString();
  }

  /** The words of a command as a shell would see them. */
  static List<String> words(String command) {
    List<String> words = new ArrayList<>();
    Matcher word = WORD.matcher(command);
    while (word.find()) {
      words.add(word.group(1) != null ? word.group(1) : word.group(2));
    }
    return words;
  }

  /** What a command prints, run in a folder with nothing typed; it may answer no, but not fail. */
  static String output(String command, Path folder) throws IOException, InterruptedException {
    List<String> words = words(command);
    if (!words.remove(0).equals("lotproof")) {
      throw new IllegalArgumentException("not a command of the program: " + command);
    }
    List<String> java = new ArrayList<>();
    java.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
    java.addAll(List.of("-XX:TieredStopAtLevel=1", "-XX:+UseSerialGC", "-cp"));
    java.add(System.getProperty("java.class.path"));
    java.add("lotproof.app.Main");
    java.addAll(words);
    Path printed = folder.resolve("printed.txt");
    Path typed = Files.write(folder.resolve("typed.txt"), new byte[0]);
    Process process =
        new ProcessBuilder(java)
            .directory(folder.toFile())
            .redirectInput(typed.toFile())
            .redirectOutput(printed.toFile())
            .redirectError(folder.resolve("complained.txt").toFile())
            .start();
    int exit = process.waitFor();
    String output = Files.readString(printed, StandardCharsets.UTF_8).replace("\r\n", "\n");
    Files.delete(printed);
    if (exit > Exit.NO) {
      throw new IllegalStateException(
          command
              + " ended with "
              + exit
              + ": "
              + Files.readString(folder.resolve("complained.txt")));
    }
    return output;
  }

  /** Lines of the output that the rule names; three dots stand for the lines between. */
  static String excerpt(String rule, String output) {
    List<String> lines = output.stripTrailing().lines().toList();
    if (rule.contains("output: all ")) {
      return String.join("\n", lines) + "\n";
    }
    StringBuilder shown = new StringBuilder();
    int next = 0;
    Matcher part = EXCERPT.matcher(rule);
    while (part.find()) {
      int first = next;
      while (first < lines.size() && !lines.get(first).contains(part.group(2))) {
        first++;
      }
      if (first == lines.size()) {
        throw new IllegalStateException("no line holds \"" + part.group(2) + "\" in:\n" + output);
      }
      int end = Math.min(lines.size(), first + Integer.parseInt(part.group(1)));
      shown.append(first > next ? "...\n" : "");
      lines.subList(first, end).forEach(line -> shown.append(line).append('\n'));
      next = end;
    }
    return shown + (next < lines.size() ? "...\n" : "");
  }
}
