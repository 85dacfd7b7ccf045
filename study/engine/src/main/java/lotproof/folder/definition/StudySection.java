package lotproof.folder.definition;

import com.fasterxml.jackson.core.JsonPointer;
import com.fasterxml.jackson.databind.JsonNode;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.NoSuchElementException;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.function.Supplier;
import java.util.stream.IntStream;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.folder.text.UnitsOfMeasure.Quantity;
import lotproof.folder.text.UnitsOfMeasure.Unit;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Keyed;
import lotproof.study.Result;

/**
 * Takes the values of one group of keys. What the schema reports already (missing keys, wrong
 * types) only gives a stand-in that no record accepts, or that nobody sees since the file is
 * refused; all else is reported here.
 */
record StudySection(YamlTree tree, JsonPointer place) {
  private JsonNode node() {
    return tree.root().at(place);
  }

  boolean has(String key) {
    return node().has(key);
  }

  /** What stands under a key, as a section of its own. */
  StudySection section(String key) {
    return new StudySection(tree, place.appendProperty(key));
  }

  /** The same, where the key may be left out. */
  Optional<StudySection> optional(String key) {
    return has(key) ? Optional.of(section(key)) : Optional.empty();
  }

  private StudySection item(String key, int index) {
    return new StudySection(tree, place.appendProperty(key).appendIndex(index));
  }

  /** The items of a list, each as a section of its own. */
  List<StudySection> items(String key) {
    int size = node().path(key).isArray() ? node().path(key).size() : 0;
    return IntStream.range(0, size).mapToObj(i -> item(key, i)).toList();
  }

  /** A text; empty when there is none. */
  String text(String key) {
    return section(key).ownText();
  }

  private String ownText() {
    String text = node().isTextual() ? node().asText() : "";
    if (text.isBlank() && !text.isEmpty()) {
      report(Code.VALUE_INVALID, StudySchema.name(place) + " must not be blank");
    }
    return text.isBlank() ? "" : text;
  }

  /** A list of texts, none of them twice. */
  List<String> texts(String key) {
    Set<String> texts = new LinkedHashSet<>();
    for (StudySection item : items(key)) {
      String text = item.ownText();
      if (!text.isEmpty() && !texts.add(text)) {
        item.report(Code.VALUE_INVALID, "\"" + text + "\" stands twice in " + name(key));
      }
    }
    return List.copyOf(texts);
  }

  /** The constant that is named; empty when none is. */
  <K extends Keyed> Optional<K> one(String key, K[] constants) {
    return Keyed.of(constants, text(key));
  }

  /** The constant that is named; one that stands for a key that was left out. */
  <K extends Keyed> Optional<K> one(String key, K[] constants, K otherwise) {
    return has(key) ? one(key, constants) : Optional.of(otherwise);
  }

  long wholeNumber(String key, long otherwise) {
    JsonNode value = node().path(key);
    return value.canConvertToExactIntegral() && value.canConvertToLong()
        ? value.longValue()
        : otherwise;
  }

  /** A number; not a number when there is none. */
  double number(String key) {
    JsonNode value = node().path(key);
    return value.isNumber() ? value.asDouble() : Double.NaN;
  }

  boolean truth(String key, boolean otherwise) {
    return node().path(key).asBoolean(otherwise);
  }

  /** A quantity in the unit asked for; not a number when there is none. */
  double quantity(String key, Unit unit) {
    return section(key).ownQuantity(unit);
  }

  /** A quantity above 0. */
  double positive(String key, Unit unit) {
    double value = quantity(key, unit);
    if (value <= 0) {
      reject(key, Code.OUT_OF_RANGE, name(key) + " must be above 0");
    }
    return value;
  }

  /** A quantity that may be left out. */
  OptionalDouble optionalQuantity(String key, Unit unit) {
    return has(key) ? OptionalDouble.of(quantity(key, unit)) : OptionalDouble.empty();
  }

  /** A list of quantities; a single one stands for itself. */
  List<Double> quantities(String key, Unit unit) {
    return node().path(key).isTextual()
        ? List.of(quantity(key, unit))
        : items(key).stream().map(item -> item.ownQuantity(unit)).toList();
  }

  private double ownQuantity(Unit unit) {
    if (!node().isTextual() && !node().isNumber()) {
      return Double.NaN;
    }
    String name = StudySchema.name(place) + ": ";
    Result<Quantity> read = UnitsOfMeasure.quantity(node().asText(), unit.dimension());
    if (read.isRefused()) {
      report(read.issues().get(0).code(), name + read.issues().get(0).message());
      return Double.NaN;
    }
    Unit first = UnitsOfMeasure.units(unit.dimension()).get(0);
    Optional<String> why = unit.dimension().outOfRange(read.get().in(first));
    if (why.isPresent()) {
      report(Code.OUT_OF_RANGE, name + "\"" + node().asText() + "\" is impossible: " + why.get());
      return Double.NaN;
    }
    return read.get().in(unit);
  }

  /** Where a key of this section is, for messages. */
  String name(String key) {
    return StudySchema.name(section(key).place);
  }

  /** Reports the value of a key. */
  void reject(String key, Code code, String message, Object... values) {
    section(key).report(code, DataIssue.say(message, values));
  }

  /** Reports an item of a list. */
  void rejectItem(String key, int index, Code code, String message, Object... values) {
    item(key, index).report(code, DataIssue.say(message, values));
  }

  private void report(Code code, String message) {
    tree.addAtValue(code, place, message);
  }

  /** Makes something of the section; nothing when what it needs is not there or cannot be. */
  <T> Optional<T> made(Supplier<T> maker) {
    try {
      return Optional.of(maker.get());
    } catch (IllegalArgumentException | NoSuchElementException e) {
      tree.addUnmade(place, StudySchema.name(place) + ": " + e.getMessage());
      return Optional.empty();
    }
  }
}
