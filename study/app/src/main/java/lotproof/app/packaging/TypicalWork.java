package lotproof.app.packaging;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.util.List;
import lotproof.app.Exit;
import lotproof.app.Main;

/**
 * Runs the usual commands once, so that the build can see which classes they need and prepare them.
 * Takes the folder of a study, which is only read, and a folder for a report.
 */
final class TypicalWork {
  private TypicalWork() {}

  public static void main(String[] args) {
    String study = args[0];
    List<String[]> commands =
        List.of(
            new String[] {"--help"},
            new String[] {"report", "--help"},
            new String[] {"status", study},
            new String[] {"review", study},
            new String[] {"spread", study},
            new String[] {"limits", study},
            new String[] {"claim", study, "--json"},
            new String[] {"report", study, "--to", args[1]});
    for (String[] command : commands) {
      StringWriter text = new StringWriter();
      PrintWriter out = new PrintWriter(text);
      int exit = Main.run(out, out, command);
      if (exit > Exit.NO) {
        System.err.println(String.join(" ", command) + " ended with " + exit + "\n" + text);
        System.exit(exit);
      }
    }
  }
}
