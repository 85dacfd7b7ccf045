package lotproof.app.cli;

import java.util.ResourceBundle;
import picocli.CommandLine.Model.ArgGroupSpec;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;

/**
 * Options of a command that stand below headings of their own in its help, as the words of the help
 * say: {@code lotproof.plan.group.1 = The bench: --mount --run}.
 */
public final class OptionGroups {
  private OptionGroups() {}

  /** Puts the options of a command into its groups. */
  public static void arrange(CommandSpec spec) {
    ResourceBundle words = spec.resourceBundle();
    if (words == null) {
      return;
    }
    String key = spec.qualifiedName(".") + ".group.";
    for (int i = 1; words.containsKey(key + i); i++) {
      String[] group = words.getString(key + i).split(":\\s+", 2);
      ArgGroupSpec.Builder options =
          ArgGroupSpec.builder().validate(false).order(i).heading("%n" + group[0] + ":%n");
      for (String name : group[1].split("\\s+", -1)) {
        OptionSpec option = spec.findOption(name);
        spec.remove(option);
        options.addArg(option);
      }
      spec.addArgGroup(options.build());
    }
  }
}
