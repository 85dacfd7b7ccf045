package lotproof.report.workbook;

import java.util.HashSet;
import java.util.Locale;
import java.util.Set;

/** Names of sheets: from plain ids, short enough, each once. */
final class SheetNames {
  private static final int LONGEST = 31;

  private final Set<String> taken = new HashSet<>();

  /** A name that is free, made from an id. */
  String from(String id) {
    String words = id.replace('-', ' ');
    String name = words.substring(0, 1).toUpperCase(Locale.ROOT) + words.substring(1);
    name = cut(name, LONGEST);
    int number = 2;
    String free = name;
    while (!taken.add(free.toLowerCase(Locale.ROOT))) {
      String suffix = " " + number++;
      free = cut(name, LONGEST - suffix.length()) + suffix;
    }
    return free;
  }

  /** The same, with a second id where the first is taken. */
  String from(String id, String otherwise) {
    return from(taken.contains(id.replace('-', ' ')) ? otherwise : id);
  }

  private static String cut(String name, int length) {
    return name.substring(0, Math.min(length, name.length())).strip();
  }
}
