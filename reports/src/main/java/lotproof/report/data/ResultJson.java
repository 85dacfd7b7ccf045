package lotproof.report.data;

import com.fasterxml.jackson.annotation.JsonAutoDetect.Visibility;
import com.fasterxml.jackson.annotation.JsonTypeInfo;
import com.fasterxml.jackson.annotation.PropertyAccessor;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.util.DefaultIndenter;
import com.fasterxml.jackson.core.util.DefaultPrettyPrinter;
import com.fasterxml.jackson.databind.DatabindContext;
import com.fasterxml.jackson.databind.JavaType;
import com.fasterxml.jackson.databind.ObjectMapper.DefaultTypeResolverBuilder;
import com.fasterxml.jackson.databind.ObjectMapper.DefaultTyping;
import com.fasterxml.jackson.databind.ObjectWriter;
import com.fasterxml.jackson.databind.SerializationFeature;
import com.fasterxml.jackson.databind.SerializerProvider;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.jsontype.BasicPolymorphicTypeValidator;
import com.fasterxml.jackson.databind.jsontype.impl.TypeIdResolverBase;
import com.fasterxml.jackson.databind.module.SimpleModule;
import com.fasterxml.jackson.databind.ser.std.StdSerializer;
import java.io.IOException;
import java.io.OutputStream;
import java.lang.reflect.Method;
import java.nio.charset.StandardCharsets;
import java.time.temporal.Temporal;
import java.util.Arrays;
import java.util.Comparator;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.OptionalLong;
import java.util.Set;
import java.util.function.Supplier;

/**
 * Any result made of records, as JSON that is the same on every run:
 *
 * <ul>
 *   <li>a record is an object, its components in their order under their own names; a record of a
 *       sealed family says first which one it is, as {@code "kind": "not-estimable"};
 *   <li>an optional that holds nothing is {@code null};
 *   <li>a constant of an enum is its {@code key()} or {@code word()} where it has one, else its
 *       name in lower case with hyphens;
 *   <li>maps and sets are sorted;
 *   <li>numbers have twelve significant digits; an infinite bound is {@code "Infinity"} or {@code
 *       "-Infinity"}; a number that is none is refused, for a result has no such thing.
 * </ul>
 */
public final class ResultJson {
  private static final ObjectWriter WRITER = writer();

  private ResultJson() {}

  /** The result as JSON, indented, with a line break at the end. */
  public static String of(Object result) {
    try {
      return WRITER.writeValueAsString(result) + "\n";
    } catch (JsonProcessingException e) {
      throw new IllegalArgumentException(e.getMessage(), e);
    }
  }

  /** Writes the result as {@link #of} gives it, in UTF-8; the stream stays open. */
  public static void write(Object result, OutputStream out) throws IOException {
    WRITER.without(JsonGenerator.Feature.AUTO_CLOSE_TARGET).writeValue(out, result);
    out.write("\n".getBytes(StandardCharsets.UTF_8));
  }

  private static ObjectWriter writer() {
    SimpleModule module =
        new SimpleModule()
            .addSerializer(serializer(Double.class, ResultJson::writeNumber))
            .addSerializer(Double.TYPE, serializer(Double.class, ResultJson::writeNumber))
            .addSerializer(serializer(Enum.class, (e, json, to) -> json.writeString(keyOf(e))))
            .addKeySerializer(
                Enum.class, serializer(Enum.class, (e, json, to) -> json.writeFieldName(keyOf(e))))
            .addSerializer(
                serializer(Temporal.class, (t, json, to) -> json.writeString(t.toString())))
            .addSerializer(serializer(Set.class, ResultJson::writeSet))
            .addSerializer(
                serializer(Optional.class, (o, json, to) -> write(o.isPresent(), o::get, json, to)))
            .addSerializer(
                serializer(
                    OptionalDouble.class,
                    (o, json, to) -> write(o.isPresent(), o::getAsDouble, json, to)))
            .addSerializer(
                serializer(
                    OptionalInt.class,
                    (o, json, to) -> write(o.isPresent(), o::getAsInt, json, to)))
            .addSerializer(
                serializer(
                    OptionalLong.class,
                    (o, json, to) -> write(o.isPresent(), o::getAsLong, json, to)));
    DefaultIndenter lines = new DefaultIndenter("  ", "\n");
    return JsonMapper.builder()
        .visibility(PropertyAccessor.ALL, Visibility.NONE)
        .visibility(PropertyAccessor.FIELD, Visibility.ANY)
        .enable(SerializationFeature.ORDER_MAP_ENTRIES_BY_KEYS)
        .setDefaultTyping(new Kinds())
        .addModule(module)
        .build()
        .writer(new DefaultPrettyPrinter().withObjectIndenter(lines).withArrayIndenter(lines));
  }

  private interface Content<T> {
    void write(T value, JsonGenerator json, SerializerProvider to) throws IOException;
  }

  private static <T> StdSerializer<T> serializer(Class<T> type, Content<T> content) {
    return new StdSerializer<>(type) {
      private static final long serialVersionUID = 1;

      @Override
      public void serialize(T value, JsonGenerator json, SerializerProvider to) throws IOException {
        content.write(value, json, to);
      }
    };
  }

  private static void writeNumber(Double value, JsonGenerator json, SerializerProvider to)
      throws IOException {
    if (Double.isNaN(value)) {
      throw new IllegalArgumentException("not a number");
    }
    double number = Significant.of(value);
    if (number == Math.rint(number) && Math.abs(number) < 1e15) {
      json.writeNumber((long) number);
    } else {
      json.writeNumber(number);
    }
  }

  private static void writeSet(Set<?> set, JsonGenerator json, SerializerProvider to)
      throws IOException {
    Object[] items = set.toArray();
    Arrays.sort(items, Comparator.comparing(ResultJson::of));
    to.defaultSerializeValue(Arrays.asList(items), json);
  }

  private static void write(
      boolean present, Supplier<?> value, JsonGenerator json, SerializerProvider to)
      throws IOException {
    if (present) {
      to.defaultSerializeValue(value.get(), json);
    } else {
      json.writeNull();
    }
  }

  /** Says of a record which one of a sealed family it is. */
  private static final class Kinds extends DefaultTypeResolverBuilder {
    private static final long serialVersionUID = 1;

    Kinds() {
      super(
          DefaultTyping.NON_FINAL,
          BasicPolymorphicTypeValidator.builder().allowIfBaseType(Object.class).build());
      init(
          JsonTypeInfo.Id.CUSTOM,
          new TypeIdResolverBase() {
            @Override
            public String idFromValue(Object value) {
              return kindOf(value.getClass()).orElseThrow();
            }

            @Override
            public String idFromValueAndType(Object value, Class<?> type) {
              return idFromValue(value);
            }

            @Override
            public JavaType typeFromId(DatabindContext context, String id) {
              throw new UnsupportedOperationException("results are written only");
            }

            @Override
            public JsonTypeInfo.Id getMechanism() {
              return JsonTypeInfo.Id.CUSTOM;
            }
          });
      inclusion(JsonTypeInfo.As.PROPERTY);
      typeProperty("kind");
    }

    @Override
    public boolean useForType(JavaType type) {
      Class<?> raw = type.getRawClass();
      return !raw.isEnum() && (raw.isSealed() || kindOf(raw).isPresent());
    }
  }

  /** Which of a sealed family a record is; empty for a record of no family. */
  static Optional<String> kindOf(Class<?> type) {
    return type.isRecord() && Arrays.stream(type.getInterfaces()).anyMatch(Class::isSealed)
        ? Optional.of(hyphenated(type.getSimpleName()))
        : Optional.empty();
  }

  static String keyOf(Enum<?> constant) {
    for (String name : new String[] {"key", "word"}) {
      try {
        Method method = constant.getDeclaringClass().getMethod(name);
        method.setAccessible(true);
        return (String) method.invoke(constant);
      } catch (NoSuchMethodException e) {
        // the next name, or the constant's own
      } catch (ReflectiveOperationException e) {
        throw new IllegalStateException("cannot read " + constant, e);
      }
    }
    return constant.name().toLowerCase(Locale.ROOT).replace('_', '-');
  }

  private static String hyphenated(String name) {
    return name.replaceAll("(?<=[a-z0-9])(?=[A-Z])", "-").toLowerCase(Locale.ROOT);
  }
}
