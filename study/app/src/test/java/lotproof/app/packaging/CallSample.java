package lotproof.app.packaging;

import java.io.Serializable;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.function.BiFunction;
import java.util.function.BinaryOperator;
import java.util.function.BooleanSupplier;
import java.util.function.Consumer;
import java.util.function.DoubleBinaryOperator;
import java.util.function.DoubleUnaryOperator;
import java.util.function.Function;
import java.util.function.IntFunction;
import java.util.function.IntPredicate;
import java.util.function.IntToLongFunction;
import java.util.function.LongSupplier;
import java.util.function.ObjDoubleConsumer;
import java.util.function.Supplier;
import java.util.function.ToDoubleFunction;
import java.util.function.ToIntFunction;
import java.util.function.ToLongFunction;
import java.util.stream.IntStream;

/**
 * Functions and records of all kinds that a compiler makes call sites for; says what they answer.
 */
public final class CallSample implements Supplier<List<String>> {
  private final List<String> said = new ArrayList<>();
  private int counter = 3;

  public CallSample() {}

  interface Shape {
    double side();

    default Supplier<Double> area() {
      return () -> squared() + own(1);
    }

    private double squared() {
      return side() * side();
    }

    private static double own(double more) {
      DoubleUnaryOperator less = v -> v - more;
      return less.applyAsDouble(1.5);
    }
  }

  record Named(String name, long size) {
    Named(String name) {
      this(name, name.length());
    }

    Supplier<String> label() {
      return () -> name + size;
    }

    private static boolean longName(Named named) {
      return named.size > 3;
    }
  }

  static final class Inner {
    private final String word;

    Inner(String word) {
      this.word = word;
    }

    Supplier<String> twice() {
      return () -> word + word;
    }

    private String joined(String other) {
      return word + "-" + other;
    }
  }

  private void say(Object value) {
    said.add(String.valueOf(value));
  }

  private int next() {
    return counter++;
  }

  private static <T extends Comparable<T>> T larger(T a, T b) {
    return a.compareTo(b) < 0 ? b : a;
  }

  private static long sum(long a, int b, double c, boolean d, char e, byte f, short g, float h) {
    return a + b + (long) c + (d ? 100 : 0) + e + f + g + (long) h;
  }

  @Override
  public List<String> get() {
    capturing();
    references();
    conversions();
    discarded();
    many();
    records();
    nested();
    return said;
  }

  private void capturing() {
    long a = 1L << 40;
    int b = -7;
    double c = 2.5;
    boolean d = true;
    char e = 'x';
    byte f = 3;
    short g = 300;
    float h = 1.25f;
    String text = "text";
    int[] numbers = {4, 5};
    LongSupplier all = () -> sum(a, b, c, d, e, f, g, h);
    say(all.getAsLong());
    Supplier<String> mixed = () -> text + numbers[1] + c + d + e;
    say(mixed.get());
    Supplier<String> own = () -> text + next() + next();
    say(own.get());
    BooleanSupplier none = () -> true;
    say(none.getAsBoolean());
    Supplier<Supplier<String>> layers = () -> () -> text + b;
    say(layers.get().get());
  }

  private void references() {
    Function<String, Named> made = Named::new;
    say(made.apply("abcd"));
    BiFunction<String, Long, Named> madeOfTwo = Named::new;
    say(madeOfTwo.apply("e", 9L));
    Function<Named, String> accessor = Named::name;
    say(accessor.apply(new Named("fg")));
    Supplier<Integer> bound = this::next;
    say(bound.get());
    BinaryOperator<String> generic = CallSample::larger;
    say(generic.apply("h", "i"));
    Function<List<String>, Integer> ofInterface = List::size;
    say(ofInterface.apply(List.of("j", "k")));
    Comparator<Named> order = Comparator.comparing(Named::name).thenComparingLong(Named::size);
    say(order.compare(new Named("l", 1), new Named("l", 2)));
    IntFunction<int[]> array = int[]::new;
    say(array.apply(6).length);
    say(new Named("mnop").label().get());
    say(List.of(new Named("q"), new Named("rstu")).stream().filter(Named::longName).toList());
    Callable<String> checked = "v"::toUpperCase;
    try {
      say(checked.call());
    } catch (Exception e) {
      say(e);
    }
    Function<String, Integer> serialised =
        (Function<String, Integer> & Serializable) String::length;
    say(serialised.apply("wxyz"));
  }

  private static int twice(int value) {
    return 2 * value;
  }

  private static Integer boxed(int value) {
    return value + 1;
  }

  private void conversions() {
    Function<Integer, Integer> unboxes = CallSample::twice;
    say(unboxes.apply(21));
    ToLongFunction<Integer> widens = CallSample::twice;
    say(widens.applyAsLong(1 << 29));
    Function<Character, Integer> ofCharacter = CallSample::twice;
    say(ofCharacter.apply('a'));
    ToDoubleFunction<Integer> unboxesAndWidens = CallSample::boxed;
    say(unboxesAndWidens.applyAsDouble(8));
    IntToLongFunction widensBoxed = CallSample::boxed;
    say(widensBoxed.applyAsLong(9));
    Function<Short, Object> toObject = CallSample::twice;
    say(toObject.apply((short) 10));
    DoubleBinaryOperator plain = Math::max;
    say(plain.applyAsDouble(1.5, -2));
    ToIntFunction<Byte> ofByte = Byte::intValue;
    say(ofByte.applyAsInt((byte) -3));
    IntPredicate test = value -> value > 2;
    say(test.test(3));
    Supplier<Character> character = () -> "abc".charAt(1);
    say(character.get());
    Function<Object, String> cast = object -> object + "!";
    say(cast.apply(1.5f));
    Function<Boolean, Boolean> not = value -> !value;
    say(not.apply(false));
  }

  private long counted(String word) {
    say("counted " + word);
    return word.length();
  }

  private void discarded() {
    List<String> list = new ArrayList<>();
    Consumer<String> adds = list::add;
    adds.accept("one");
    Consumer<String> counts = this::counted;
    counts.accept("two");
    ObjDoubleConsumer<StringBuilder> appends = StringBuilder::append;
    StringBuilder builder = new StringBuilder();
    appends.accept(builder, 2.25);
    say(list + " " + builder);
    Runnable makes = Object::new;
    makes.run();
  }

  /** More functions of one kind than a class takes. */
  private void many() {
    List<Function<Integer, Integer>> all =
        List.of(
            v -> v + 1,
            v -> v + 2,
            v -> v + 3,
            v -> v + 4,
            v -> v + 5,
            v -> v + 6,
            v -> v + 7,
            v -> v + 8,
            v -> v + 9,
            v -> v + 10,
            v -> v + 11,
            v -> v + 12,
            v -> v + 13,
            v -> v + 14,
            v -> v + 15,
            v -> v + 16,
            v -> v + 17,
            v -> v + 18,
            v -> v + counter);
    say(all.stream().map(f -> f.apply(100)).toList());
    for (Function<Integer, Integer> one : all) {
      say(one.apply(0));
    }
    say(IntStream.range(0, 4).mapToObj(i -> "n" + i).toList());
  }

  private record Whole(
      boolean a,
      byte b,
      short c,
      char d,
      int e,
      long f,
      float g,
      double h,
      String i,
      List<String> j) {}

  private record Nothing() {}

  private static Whole whole(int which) {
    return new Whole(
        which != 0,
        (byte) (which == 1 ? 1 : 0),
        (short) (which == 2 ? 1 : 0),
        which == 3 ? 'x' : 'y',
        which == 4 ? 1 : 0,
        which == 5 ? 1L << 33 : 0,
        which == 6 ? Float.NaN : 0,
        which == 7 ? Double.NaN : -0.0,
        which == 8 ? null : "text",
        which == 9 ? List.of() : null);
  }

  private void records() {
    for (int which = 0; which < 10; which++) {
      Whole one = whole(which);
      say(one.hashCode());
      List<Boolean> same = new ArrayList<>();
      for (int other = 0; other < 10; other++) {
        same.add(one.equals(whole(other)));
      }
      say(same);
    }
    say(new Named("ab").equals(new Named("ab", 2)));
    Object[] others = {new Nothing(), "ab", null};
    for (Object other : others) {
      say(new Named("ab").equals(other));
    }
    say(new Nothing().hashCode());
    say(new Nothing().equals(new Nothing()));
  }

  private void nested() {
    Inner inner = new Inner("ab");
    say(inner.twice().get());
    Function<String, String> joined = inner::joined;
    say(joined.apply("cd"));
    Shape shape = () -> 3;
    say(shape.area().get());
    class Local {
      void run() {
        Supplier<String> deep = () -> "deep" + next();
        say(deep.get());
      }
    }
    new Local().run();
  }
}
