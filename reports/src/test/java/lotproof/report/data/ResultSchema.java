package lotproof.report.data;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.lang.reflect.ParameterizedType;
import java.lang.reflect.RecordComponent;
import java.lang.reflect.Type;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;
import java.util.TreeMap;

/**
 * The JSON Schema of what {@link ResultJson} writes for a type of records, by the rules in its
 * documentation.
 */
final class ResultSchema {
  private static final ObjectMapper MAPPER = new ObjectMapper();

  private final Map<String, ObjectNode> definitions = new TreeMap<>();
  private final Deque<Class<?>> open = new ArrayDeque<>();

  private ResultSchema() {}

  static ObjectNode of(Class<?> type, String id, String title) {
    ResultSchema schema = new ResultSchema();
    ObjectNode root = MAPPER.createObjectNode();
    root.put("$schema", "https://json-schema.org/draft/2020-12/schema");
    root.put("$id", id);
    root.put("title", title);
    root.setAll(schema.reference(type));
    while (!schema.open.isEmpty()) {
      schema.define(schema.open.pop());
    }
    ObjectNode defs = root.putObject("$defs");
    schema.definitions.forEach(defs::set);
    return root;
  }

  private ObjectNode reference(Class<?> type) {
    String name = name(type);
    if (!definitions.containsKey(name)) {
      definitions.put(name, MAPPER.createObjectNode());
      open.push(type);
    }
    return MAPPER.createObjectNode().put("$ref", "#/$defs/" + name);
  }

  /** Nested types carry the name of the type around them, since two may share their own. */
  private static String name(Class<?> type) {
    Class<?> around = type.getDeclaringClass();
    return around == null ? type.getSimpleName() : name(around) + "." + type.getSimpleName();
  }

  private void define(Class<?> type) {
    ObjectNode node = definitions.get(name(type));
    if (type.isRecord()) {
      record(type, node);
    } else if (type.isEnum()) {
      var words = node.putArray("enum");
      for (Object constant : type.getEnumConstants()) {
        words.add(ResultJson.keyOf(constant));
      }
    } else if (type.isSealed()) {
      var any = node.putArray("anyOf");
      for (Class<?> member : type.getPermittedSubclasses()) {
        any.add(reference(member));
      }
    } else {
      throw new IllegalArgumentException("no schema for " + type);
    }
  }

  private void record(Class<?> type, ObjectNode node) {
    node.put("type", "object");
    ObjectNode properties = MAPPER.createObjectNode();
    var required = node.putArray("required");
    ResultJson.kindOf(type)
        .ifPresent(
            kind -> {
              required.add("kind");
              properties.putObject("kind").put("const", kind);
            });
    for (RecordComponent component : type.getRecordComponents()) {
      required.add(component.getName());
      properties.set(component.getName(), schema(component.getGenericType()));
    }
    node.set("properties", properties);
    node.put("additionalProperties", false);
  }

  private ObjectNode schema(Type type) {
    if (type instanceof ParameterizedType generic) {
      return generic(generic);
    }
    Class<?> plain = (Class<?>) type;
    if (plain == double.class || plain == Double.class) {
      return number();
    }
    if (plain == OptionalDouble.class) {
      return orNull(number());
    }
    if (plain == OptionalInt.class) {
      return orNull(MAPPER.createObjectNode().put("type", "integer"));
    }
    if (plain == int.class || plain == long.class || plain == Integer.class) {
      return MAPPER.createObjectNode().put("type", "integer");
    }
    if (plain == boolean.class) {
      return MAPPER.createObjectNode().put("type", "boolean");
    }
    if (plain == String.class || java.time.temporal.Temporal.class.isAssignableFrom(plain)) {
      return MAPPER.createObjectNode().put("type", "string");
    }
    return reference(plain);
  }

  private ObjectNode generic(ParameterizedType type) {
    Class<?> raw = (Class<?>) type.getRawType();
    Type[] arguments = type.getActualTypeArguments();
    if (raw == Optional.class) {
      return orNull(schema(arguments[0]));
    }
    if (raw == List.class || raw == Set.class) {
      ObjectNode array = MAPPER.createObjectNode().put("type", "array");
      array.set("items", schema(arguments[0]));
      return array;
    }
    if (raw == Map.class) {
      ObjectNode object = MAPPER.createObjectNode().put("type", "object");
      object.set("additionalProperties", schema(arguments[1]));
      return object;
    }
    throw new IllegalArgumentException("no schema for " + type);
  }

  private static ObjectNode number() {
    ObjectNode node = MAPPER.createObjectNode();
    var any = node.putArray("anyOf");
    any.addObject().put("type", "number");
    any.addObject().putArray("enum").add("Infinity").add("-Infinity");
    return node;
  }

  private static ObjectNode orNull(ObjectNode schema) {
    ObjectNode node = MAPPER.createObjectNode();
    var any = node.putArray("anyOf");
    any.add(schema);
    any.addObject().put("type", "null");
    return node;
  }
}
