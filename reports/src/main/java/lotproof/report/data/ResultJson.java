package lotproof.report.data;

import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.json.JsonWriteFeature;
import com.fasterxml.jackson.core.util.DefaultIndenter;
import com.fasterxml.jackson.core.util.DefaultPrettyPrinter;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.io.OutputStream;
import java.io.OutputStreamWriter;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.lang.reflect.Array;
import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.Method;
import java.lang.reflect.RecordComponent;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.OptionalLong;
import java.util.Set;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;

/**
 * Any result made of records, as JSON that is the same on every run:
 *
 * <ul>
 *   <li>a record is an object, its components in their order under their own names; a record of a
 *       sealed family says first which one it is, as {@code "kind": "not-estimable"};
 *   <li>an optional that holds nothing is {@code null};
 *   <li>a constant of an enum is its {@code key()} or {@code word()} where it has one, else its
 *       name in lower case with hyphens;
 *   <li>a map is an object with its keys sorted, a set is sorted;
 *   <li>what holds single values only stands on one line;
 *   <li>numbers have full precision; an infinite bound is {@code "Infinity"} or {@code
 *       "-Infinity"}; a number that is none is refused, for a result has no such thing.
 * </ul>
 */
public final class ResultJson {
  private static final JsonMapper MAPPER =
      JsonMapper.builder().enable(JsonWriteFeature.WRITE_NAN_AS_STRINGS).build();

  private final JsonGenerator json;
  private final Layout layout;

  private ResultJson(JsonGenerator json, Layout layout) {
    this.json = json;
    this.layout = layout;
  }

  /** Where lines are broken. */
  private static final class Layout extends DefaultIndenter {
    private static final long serialVersionUID = 1;

    private boolean oneLine;

    Layout() {
      super("  ", "\n");
    }

    @Override
    public void writeIndentation(JsonGenerator json, int level) throws IOException {
      if (oneLine) {
        json.writeRaw(' ');
      } else {
        super.writeIndentation(json, level);
      }
    }
  }

  /** The result as JSON, indented, with a line break at the end. */
  public static String of(Object result) {
    return indented(to -> to.write(result, Path.root(result)));
  }

  /** A tree as JSON, laid out in the same way. */
  static String indented(JsonNode tree) {
    return indented(to -> to.json.writeTree(tree));
  }

  /** Something that writes JSON. */
  private interface Content {
    void writeTo(ResultJson to) throws IOException;
  }

  /** Writes the result as {@link #of} gives it, in UTF-8; the stream stays open. */
  public static void write(Object result, OutputStream out) throws IOException {
    Writer text = new OutputStreamWriter(out, StandardCharsets.UTF_8);
    indent(to -> to.write(result, Path.root(result)), text);
    text.flush();
  }

  private static String indented(Content content) {
    StringWriter text = new StringWriter();
    try {
      indent(content, text);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return text.toString();
  }

  private static void indent(Content content, Writer text) throws IOException {
    Layout layout = new Layout();
    DefaultPrettyPrinter printer =
        new DefaultPrettyPrinter().withObjectIndenter(layout).withArrayIndenter(layout);
    try (JsonGenerator json = MAPPER.createGenerator(text)) {
      json.disable(JsonGenerator.Feature.AUTO_CLOSE_TARGET);
      json.setPrettyPrinter(printer);
      content.writeTo(new ResultJson(json, layout));
    }
    text.append('\n');
  }

  /** Where a value stands, put into words only when something is wrong there. */
  private record Path(@Nullable Path parent, @Nullable String name, int index) {
    static Path root(Object result) {
      return new Path(null, result.getClass().getSimpleName(), 0);
    }

    Path to(String member) {
      return new Path(this, member, 0);
    }

    Path at(int item) {
      return new Path(this, null, item);
    }

    String words() {
      String own = name == null ? "[" + index + "]" : name;
      if (parent == null) {
        return own;
      }
      return parent.words() + (name == null ? own : "." + own);
    }
  }

  private void write(@Nullable Object value, Path path) throws IOException {
    if (value == null) {
      json.writeNull();
    } else if (value instanceof Record aRecord) {
      writeRecord(aRecord, path);
    } else if (value instanceof Map<?, ?> map) {
      writeMap(map, path);
    } else if (value instanceof Set<?> set) {
      writeList(sorted(set), path);
    } else if (value instanceof Collection<?> list) {
      writeList(list, path);
    } else if (value.getClass().isArray()) {
      writeList(items(value), path);
    } else if (isOptional(value)) {
      write(content(value), path);
    } else {
      writeLeaf(value, path);
    }
  }

  private static List<@Nullable Object> items(Object array) {
    List<@Nullable Object> items = new ArrayList<>();
    for (int i = 0; i < Array.getLength(array); i++) {
      items.add(Array.get(array, i));
    }
    return items;
  }

  /** Whether a value holds no others. */
  private static boolean isSingle(@Nullable Object value) {
    if (value == null) {
      return true;
    }
    if (isOptional(value)) {
      return isSingle(content(value));
    }
    return !(value instanceof Record
        || value instanceof Map
        || value instanceof Collection
        || value.getClass().isArray());
  }

  private static boolean areSingle(Collection<?> values) {
    for (Object value : values) {
      if (!isSingle(value)) {
        return false;
      }
    }
    return true;
  }

  private void writeLeaf(Object value, Path path) throws IOException {
    if (value instanceof Double number) {
      if (Double.isNaN(number)) {
        throw new IllegalArgumentException("not a number at " + path.words());
      }
      writeNumber(number);
    } else if (value instanceof Integer || value instanceof Long) {
      json.writeNumber(((Number) value).longValue());
    } else if (value instanceof Boolean truth) {
      json.writeBoolean(truth);
    } else if (value instanceof Enum<?> constant) {
      json.writeString(keyOf(constant));
    } else {
      json.writeString(value.toString());
    }
  }

  private void writeNumber(double number) throws IOException {
    if (number == Math.rint(number) && Math.abs(number) < 1e15) {
      json.writeNumber((long) number);
    } else {
      json.writeNumber(number);
    }
  }

  /** How a class of records is written, found out once. */
  private record Shape(Optional<String> kind, List<Member> members) {
    static Shape of(Class<?> type) {
      List<Member> members = new ArrayList<>();
      for (RecordComponent component : type.getRecordComponents()) {
        Method accessor = component.getAccessor();
        accessor.setAccessible(true);
        members.add(new Member(component.getName(), accessor));
      }
      return new Shape(kindOf(type), members);
    }
  }

  private record Member(String name, Method accessor) {}

  private static final ClassValue<Shape> SHAPES =
      new ClassValue<>() {
        @Override
        protected Shape computeValue(Class<?> type) {
          return Shape.of(type);
        }
      };

  private void writeRecord(Record value, Path path) throws IOException {
    Shape shape = SHAPES.get(value.getClass());
    List<@Nullable Object> values = new ArrayList<>(shape.members.size());
    for (Member member : shape.members) {
      values.add(call(member.accessor, value));
    }
    json.writeStartObject();
    layout.oneLine = areSingle(values);
    if (shape.kind.isPresent()) {
      json.writeStringField("kind", shape.kind.get());
    }
    for (int i = 0; i < values.size(); i++) {
      String name = shape.members.get(i).name;
      json.writeFieldName(name);
      write(values.get(i), path.to(name));
    }
    json.writeEndObject();
    layout.oneLine = false;
  }

  private void writeMap(Map<?, ?> map, Path path) throws IOException {
    Map<String, @Nullable Object> sorted = new TreeMap<>();
    map.forEach((key, item) -> sorted.put(keyOf(key), item));
    json.writeStartObject();
    layout.oneLine = areSingle(sorted.values());
    for (Map.Entry<String, @Nullable Object> entry : sorted.entrySet()) {
      json.writeFieldName(entry.getKey());
      write(entry.getValue(), path.to(entry.getKey()));
    }
    json.writeEndObject();
    layout.oneLine = false;
  }

  private void writeList(Collection<?> list, Path path) throws IOException {
    json.writeStartArray();
    layout.oneLine = areSingle(list);
    int index = 0;
    for (Object item : list) {
      write(item, path.at(index++));
    }
    json.writeEndArray();
    layout.oneLine = false;
  }

  private static List<Object> sorted(Set<?> set) {
    Map<String, Object> byText = new TreeMap<>();
    set.forEach(item -> byText.put(of(item), item));
    return List.copyOf(byText.values());
  }

  private static boolean isOptional(Object value) {
    return value instanceof Optional
        || value instanceof OptionalDouble
        || value instanceof OptionalInt
        || value instanceof OptionalLong;
  }

  private static @Nullable Object content(Object optional) {
    if (optional instanceof OptionalDouble number) {
      return number.isPresent() ? number.getAsDouble() : null;
    }
    if (optional instanceof OptionalInt number) {
      return number.isPresent() ? number.getAsInt() : null;
    }
    if (optional instanceof OptionalLong number) {
      return number.isPresent() ? number.getAsLong() : null;
    }
    return ((Optional<?>) optional).orElse(null);
  }

  /** Which of a sealed family a record is; empty for a record of no family. */
  static Optional<String> kindOf(Class<?> type) {
    for (Class<?> parent : type.getInterfaces()) {
      if (parent.isSealed()) {
        return Optional.of(hyphenated(type.getSimpleName()));
      }
    }
    return Optional.empty();
  }

  static String keyOf(Object key) {
    return key instanceof Enum<?> constant
        ? Objects.requireNonNull(KEYS.get(constant.getDeclaringClass()).get(constant))
        : String.valueOf(key);
  }

  private static final ClassValue<Map<Object, String>> KEYS =
      new ClassValue<>() {
        @Override
        protected Map<Object, String> computeValue(Class<?> type) {
          Map<Object, String> keys = new HashMap<>();
          for (Object constant : type.getEnumConstants()) {
            keys.put(constant, keyOfConstant((Enum<?>) constant));
          }
          return Map.copyOf(keys);
        }
      };

  private static String keyOfConstant(Enum<?> constant) {
    for (Method method : constant.getDeclaringClass().getMethods()) {
      boolean names = method.getName().equals("key") || method.getName().equals("word");
      if (names && method.getParameterCount() == 0 && method.getReturnType() == String.class) {
        method.setAccessible(true);
        return String.valueOf(call(method, constant));
      }
    }
    return constant.name().toLowerCase(Locale.ROOT).replace('_', '-');
  }

  private static String hyphenated(String name) {
    return name.replaceAll("(?<=[a-z0-9])(?=[A-Z])", "-").toLowerCase(Locale.ROOT);
  }

  private static @Nullable Object call(Method method, Object on) {
    try {
      return method.invoke(on);
    } catch (IllegalAccessException | InvocationTargetException e) {
      throw new IllegalStateException("cannot read " + method, e);
    }
  }
}
