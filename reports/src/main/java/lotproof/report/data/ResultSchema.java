package lotproof.report.data;

import com.fasterxml.jackson.annotation.JsonUnwrapped;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.lang.reflect.ParameterizedType;
import java.lang.reflect.RecordComponent;
import java.lang.reflect.Type;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.OptionalLong;
import java.util.TreeMap;

/**
 * The JSON Schema (draft 2020-12) of what {@link ResultJson} writes for given kinds of record, made
 * from the records themselves so that the published schema cannot drift from the program.
 */
public final class ResultSchema {
  private static final JsonNodeFactory JSON = JsonNodeFactory.instance;

  /** What stands for a type that is no record; anything else is written as words. */
  private static final Map<Class<?>, JsonNode> PLAIN =
      Map.of(
          double.class, number(),
          Double.class, number(),
          OptionalDouble.class, orNull(number()),
          int.class, typed("integer"),
          Integer.class, typed("integer"),
          OptionalInt.class, orNull(typed("integer")),
          long.class, typed("integer"),
          OptionalLong.class, orNull(typed("integer")),
          boolean.class, typed("boolean"),
          Boolean.class, typed("boolean"));

  private final Map<String, ObjectNode> definitions = new TreeMap<>();

  private ResultSchema() {}

  /**
   * The schema of a document that is any of these records.
   *
   * @param id address under which the schema is known
   * @param title what the documents are
   * @param roots kinds of record
   */
  public static String of(String id, String title, List<Class<? extends Record>> roots) {
    ResultSchema schema = new ResultSchema();
    ObjectNode root = JSON.objectNode();
    root.put("$schema", "https://json-schema.org/draft/2020-12/schema");
    root.put("$id", id);
    root.put("title", title);
    ArrayNode any = root.putArray("anyOf");
    roots.forEach(type -> any.add(schema.of(type)));
    root.putObject("$defs").setAll(schema.definitions);
    return ResultJson.of(root);
  }

  private JsonNode of(Type type) {
    if (type instanceof ParameterizedType generic) {
      return ofGeneric((Class<?>) generic.getRawType(), generic.getActualTypeArguments());
    }
    if (!(type instanceof Class<?> plain) || plain == Object.class) {
      return JSON.objectNode();
    }
    if (plain.isArray()) {
      return array(plain.getComponentType());
    }
    if (plain.isEnum()) {
      return ofEnum(plain);
    }
    return plain.isRecord() || plain.isSealed()
        ? reference(plain)
        : PLAIN.getOrDefault(plain, typed("string"));
  }

  private JsonNode ofGeneric(Class<?> raw, Type[] arguments) {
    if (raw == Optional.class) {
      return orNull(of(arguments[0]));
    }
    if (Map.class.isAssignableFrom(raw)) {
      ObjectNode map = typed("object");
      if (arguments[0] instanceof Class<?> key && key.isEnum()) {
        map.set("propertyNames", ofEnum(key));
      }
      return map.set("additionalProperties", of(arguments[1]));
    }
    return Iterable.class.isAssignableFrom(raw) ? array(arguments[0]) : of(raw);
  }

  private ObjectNode reference(Class<?> type) {
    String name = nameOf(type);
    if (!definitions.containsKey(name)) {
      ObjectNode definition = JSON.objectNode();
      definitions.put(name, definition); // before its parts, which may contain it
      if (type.isRecord()) {
        fill(definition, type);
      } else {
        ArrayNode any = definition.putArray("oneOf");
        // by name, since compilers list them in different orders
        Arrays.stream(type.getPermittedSubclasses())
            .sorted(Comparator.comparing(ResultSchema::nameOf))
            .forEach(kind -> any.add(of(kind)));
      }
    }
    return JSON.objectNode().put("$ref", "#/$defs/" + name);
  }

  private void fill(ObjectNode definition, Class<?> type) {
    definition.put("type", "object");
    ArrayNode required = definition.putArray("required");
    definition.put("additionalProperties", false);
    ObjectNode properties = definition.putObject("properties");
    ResultJson.kindOf(type)
        .ifPresent(
            kind -> {
              required.add("kind");
              properties.putObject("kind").put("const", kind);
            });
    addComponents(type, required, properties);
  }

  private void addComponents(Class<?> type, ArrayNode required, ObjectNode properties) {
    for (RecordComponent component : type.getRecordComponents()) {
      if (component.getAccessor().isAnnotationPresent(JsonUnwrapped.class)) {
        addComponents(component.getType(), required, properties);
      } else {
        required.add(component.getName());
        properties.set(component.getName(), of(component.getGenericType()));
      }
    }
  }

  private static String nameOf(Class<?> type) {
    Class<?> outer = type.getEnclosingClass();
    return outer == null ? type.getSimpleName() : nameOf(outer) + "." + type.getSimpleName();
  }

  private ObjectNode array(Type items) {
    return typed("array").set("items", of(items));
  }

  private static ObjectNode ofEnum(Class<?> type) {
    ObjectNode node = JSON.objectNode();
    ArrayNode words = node.putArray("enum");
    for (Object constant : type.getEnumConstants()) {
      words.add(ResultJson.keyOf((Enum<?>) constant));
    }
    return node;
  }

  /** A number, or a bound that there is none. */
  private static ObjectNode number() {
    ObjectNode node = JSON.objectNode();
    node.putArray("anyOf")
        .add(typed("number"))
        .add(JSON.objectNode().set("enum", JSON.arrayNode().add("Infinity").add("-Infinity")));
    return node;
  }

  private static ObjectNode orNull(JsonNode schema) {
    ObjectNode node = JSON.objectNode();
    node.putArray("anyOf").add(schema).add(typed("null"));
    return node;
  }

  private static ObjectNode typed(String type) {
    return JSON.objectNode().put("type", type);
  }
}
