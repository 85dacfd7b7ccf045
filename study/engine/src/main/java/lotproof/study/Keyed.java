package lotproof.study;

import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;

/** A constant with a name of its own in files, on the command line and in every output. */
public interface Keyed {
  /** The constant's name in Java. */
  String name();

  /** That name: the one in Java in small letters with hyphens, if nothing else is said. */
  default String key() {
    return name().toLowerCase(Locale.ROOT).replace('_', '-');
  }

  /** The one of some constants that has this key, if there is one. */
  static <K extends Keyed> Optional<K> of(K[] constants, String key) {
    return Arrays.stream(constants).filter(constant -> constant.key().equals(key)).findFirst();
  }
}
