package lotproof.folder.definition;

import com.fasterxml.jackson.core.JsonPointer;
import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.function.Supplier;
import lotproof.folder.text.UnitsOfMeasure;
import lotproof.folder.text.UnitsOfMeasure.Quantity;
import lotproof.folder.text.UnitsOfMeasure.Unit;
import lotproof.study.DataIssue;
import lotproof.study.DataIssue.Code;
import lotproof.study.Result;

/**
 * Takes the values of one group of keys. What the schema reports already (missing keys, wrong
 * types) only makes the section incomplete; all else is reported here.
 */
final class StudySection {
  private final Trouble trouble;
  private final YamlTree tree;
  private final JsonPointer place;
  private boolean complete = true;

  /** What was found so far, and where. */
  static final class Trouble {
    private final List<DataIssue> issues = new ArrayList<>();
    private final Set<JsonPointer> places = new LinkedHashSet<>();

    List<DataIssue> issues() {
      return issues;
    }

    Set<JsonPointer> places() {
      return places;
    }
  }

  StudySection(YamlTree tree, Trouble trouble, JsonPointer place) {
    this.tree = tree;
    this.trouble = trouble;
    this.place = place;
  }

  private JsonNode node() {
    return tree.root().at(place);
  }

  private JsonPointer at(String key) {
    return place.appendProperty(key);
  }

  boolean has(String key) {
    return node().has(key);
  }

  boolean isText(String key) {
    return node().path(key).isTextual();
  }

  /** What stands under a key, as a section of its own. */
  StudySection section(String key) {
    return new StudySection(tree, trouble, at(key));
  }

  /** The items of a list, each as a section of its own. */
  List<StudySection> items(String key) {
    JsonNode list = node().path(key);
    if (!list.isArray()) {
      complete = false;
      return List.of();
    }
    List<StudySection> items = new ArrayList<>();
    for (int i = 0; i < list.size(); i++) {
      items.add(new StudySection(tree, trouble, at(key).appendIndex(i)));
    }
    return items;
  }

  String text(String key) {
    return section(key).ownText(this);
  }

  /** A list of texts, none of them twice. */
  List<String> texts(String key) {
    Set<String> texts = new LinkedHashSet<>();
    for (StudySection item : items(key)) {
      String text = item.ownText(this);
      if (!text.isEmpty() && !texts.add(text)) {
        item.report(
            Code.VALUE_INVALID, "\"" + text + "\" stands twice in " + StudySchema.name(at(key)));
        complete = false;
      }
    }
    return List.copyOf(texts);
  }

  /** The text that this section itself is, for its parent. */
  private String ownText(StudySection parent) {
    if (node().isTextual() && !node().asText().isBlank()) {
      return node().asText();
    }
    if (node().isTextual() && !node().asText().isEmpty()) {
      report(Code.VALUE_INVALID, StudySchema.name(place) + " must not be blank");
    }
    parent.complete = false;
    return "";
  }

  long wholeNumber(String key, long otherwise) {
    JsonNode value = node().path(key);
    if (value.isIntegralNumber() && value.canConvertToLong()) {
      return value.longValue();
    }
    complete &= value.isMissingNode();
    return otherwise;
  }

  double number(String key) {
    JsonNode value = node().path(key);
    complete &= value.isNumber();
    return value.asDouble();
  }

  boolean truth(String key, boolean otherwise) {
    JsonNode value = node().path(key);
    complete &= value.isMissingNode() || value.isBoolean();
    return value.asBoolean(otherwise);
  }

  /** Marks the section as incomplete, for trouble that was reported elsewhere. */
  void incomplete() {
    complete = false;
  }

  /** A quantity in the unit asked for; 0 when there is none, and then the section is incomplete. */
  double quantity(String key, Unit unit) {
    OptionalDouble value = section(key).ownQuantity(unit);
    complete &= value.isPresent();
    return value.orElse(0);
  }

  /** A quantity above 0. */
  double positive(String key, Unit unit) {
    OptionalDouble read = section(key).ownQuantity(unit);
    complete &= read.isPresent();
    double value = read.orElse(0);
    if (read.isPresent() && !(value > 0)) {
      reject(key, Code.OUT_OF_RANGE, StudySchema.name(at(key)) + " must be above 0");
    }
    return value;
  }

  /** A quantity that may be left out. */
  OptionalDouble optionalQuantity(String key, Unit unit) {
    return has(key) ? OptionalDouble.of(quantity(key, unit)) : OptionalDouble.empty();
  }

  /** A list of quantities. */
  List<Double> quantities(String key, Unit unit) {
    List<Double> values = new ArrayList<>();
    for (StudySection item : items(key)) {
      OptionalDouble value = item.ownQuantity(unit);
      value.ifPresent(values::add);
      complete &= value.isPresent();
    }
    return values;
  }

  private OptionalDouble ownQuantity(Unit unit) {
    if (!node().isTextual() && !node().isNumber()) {
      return OptionalDouble.empty();
    }
    Result<Quantity> read = UnitsOfMeasure.quantity(node().asText(), unit.dimension());
    String name = StudySchema.name(place) + ": ";
    if (read.isRefused()) {
      report(read.issues().get(0).code(), name + read.issues().get(0).message());
      return OptionalDouble.empty();
    }
    Unit first = UnitsOfMeasure.units(unit.dimension()).get(0);
    Optional<String> why = unit.dimension().outOfRange(read.get().in(first));
    if (why.isPresent()) {
      report(
          Code.OUT_OF_RANGE,
          "%s\"%s\" is impossible: %s".formatted(name, node().asText(), why.get()));
      return OptionalDouble.empty();
    }
    return OptionalDouble.of(read.get().in(unit));
  }

  /** The one of some values that is written so; the schema reports when there is none. */
  <T> Optional<T> oneOf(String key, Optional<T> found) {
    complete &= found.isPresent();
    return found;
  }

  /** Reports the value of a key, and makes the section incomplete. */
  void reject(String key, Code code, String message) {
    section(key).report(code, message);
    complete = false;
  }

  /** Reports an item of a list, and makes the section incomplete. */
  void rejectItem(String key, int item, Code code, String message) {
    new StudySection(tree, trouble, at(key).appendIndex(item)).report(code, message);
    complete = false;
  }

  /** Where a key of this section is, for messages. */
  String name(String key) {
    return StudySchema.name(at(key));
  }

  boolean isComplete() {
    return complete;
  }

  /** Makes something of the section when all it needs is there. */
  <T> Optional<T> whenComplete(Supplier<T> maker) {
    return complete ? Optional.of(maker.get()) : Optional.empty();
  }

  private void report(Code code, String message) {
    trouble.places.add(place);
    trouble.issues.add(YamlTree.issue(code, tree.file(), tree.valueAt(place), message));
  }
}
