package lotproof.app;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.File;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.MessageDigest;
import java.util.ArrayList;
import java.util.Base64;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/**
 * A browser without a window that opens a page from a file and runs a check in it. The check is
 * added to a copy of the page, and to its policy, so that the page's own policy stays in force.
 *
 * @param program the browser
 * @param axe the library that knows the rules of accessibility: axe.min.js of axe-core
 */
record Browser(Path program, Path axe) {
  private static final Pattern OUTCOME = Pattern.compile("BEGIN([A-Za-z0-9+/=]*)END");
  private static final int MOST_SECONDS = 240;

  /** The browser of this machine, where the environment names axe.min.js as AXE_CORE. */
  static Optional<Browser> installed() {
    String axe = System.getenv("AXE_CORE");
    if (axe == null || !Files.isRegularFile(Path.of(axe))) {
      return Optional.empty();
    }
    return Stream.of("chromium", "chromium-browser", "google-chrome")
        .flatMap(
            name ->
                Stream.of(
                        Objects.requireNonNullElse(System.getenv("PATH"), "")
                            .split(File.pathSeparator, -1))
                    .map(folder -> Path.of(folder, name)))
        .filter(Files::isExecutable)
        .findFirst()
        .map(program -> new Browser(program, Path.of(axe)));
  }

  /** What the check found on a page in a window of that width, dark where the reader wants it. */
  JsonNode check(Path page, int width, boolean dark, Path temp)
      throws IOException, InterruptedException {
    Path copy = temp.resolve("checked-" + width + ".html");
    Files.writeString(copy, withCheck(Files.readString(page)));
    Path shown = temp.resolve("shown-" + width + ".html");
    List<String> command = new ArrayList<>();
    command.add(program.toString());
    command.addAll(
        List.of(
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--no-first-run",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
            "--user-data-dir=" + temp.resolve("browser-" + width),
            "--window-size=" + width + ",900",
            "--blink-settings=preferredColorScheme=" + (dark ? 0 : 1),
            "--virtual-time-budget=120000",
            "--dump-dom",
            copy.toUri().toString()));
    Process process =
        new ProcessBuilder(command)
            .redirectOutput(shown.toFile())
            .redirectError(ProcessBuilder.Redirect.DISCARD)
            .start();
    boolean ended = process.waitFor(MOST_SECONDS, TimeUnit.SECONDS);
    process.destroyForcibly();
    assertThat(ended).as("the browser ended within " + MOST_SECONDS + " s").isTrue();
    String dom = Files.readString(shown);
    Matcher outcome =
        OUTCOME.matcher(dom.substring(Math.max(0, dom.lastIndexOf("id=\"outcome\""))));
    assertThat(outcome.find()).as("the check came to its end").isTrue();
    return new JsonMapper().readTree(Base64.getDecoder().decode(outcome.group(1)));
  }

  private String withCheck(String page) throws IOException {
    String rules = "//\n" + Files.readString(axe).replace("</script", "<\\/script") + "\n";
    String check;
    try (var in = Browser.class.getResourceAsStream("/page-check.js")) {
      check = new String(Objects.requireNonNull(in).readAllBytes(), StandardCharsets.UTF_8);
    }
    int policy = page.indexOf("script-src ") + "script-src ".length();
    int end = page.lastIndexOf("</body>");
    return page.substring(0, policy)
        + hash(rules)
        + " "
        + hash(check)
        + " "
        + page.substring(policy, end)
        + "<script>"
        + rules
        + "</script><script>"
        + check
        + "</script>"
        + page.substring(end);
  }

  private static String hash(String script) {
    try {
      byte[] sum =
          MessageDigest.getInstance("SHA-256").digest(script.getBytes(StandardCharsets.UTF_8));
      return "'sha256-" + Base64.getEncoder().encodeToString(sum) + "'";
    } catch (GeneralSecurityException e) {
      throw new IllegalStateException(e);
    }
  }
}
