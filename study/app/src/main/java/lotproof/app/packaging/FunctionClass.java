package lotproof.app.packaging;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.IntStream;
import org.objectweb.asm.ClassWriter;
import org.objectweb.asm.Handle;
import org.objectweb.asm.Label;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.Type;
import org.objectweb.asm.commons.GeneratorAdapter;
import org.objectweb.asm.commons.Method;
import org.objectweb.asm.commons.TableSwitchGenerator;
import org.objectweb.asm.tree.AbstractInsnNode;
import org.objectweb.asm.tree.IntInsnNode;
import org.objectweb.asm.tree.InvokeDynamicInsnNode;
import org.objectweb.asm.tree.MethodInsnNode;

/**
 * A class that stands for functions of one interface that one class makes. An object knows by a
 * number which function it is, and keeps what that one captured in fields that all share.
 *
 * <p>What a function does to its arguments and its result follows {@link
 * java.lang.invoke.LambdaMetafactory}: casts, boxing, unboxing and widening between the types of
 * the interface, those of the place where the function is made and those of the target.
 */
final class FunctionClass extends NestClass {
  /** Owner of the methods that link the call sites of functions. */
  private static final String LINKER = "java/lang/invoke/LambdaMetafactory";

  /** The plain one; the other is for functions that can be serialised or are of several types. */
  private static final String LINKS = "metafactory";

  /** A class is compiled as a whole: more functions in one would cost more than they save. */
  private static final int MOST = 16;

  private static final Method CONSTRUCTOR = Method.getMethod("void <init> ()");
  private static final String MAKER = "of";
  private static final String NUMBER = "number";

  /** The primitive type in each box. */
  private static final Map<String, Type> UNBOXED =
      Map.of(
          "java.lang.Boolean", Type.BOOLEAN_TYPE,
          "java.lang.Byte", Type.BYTE_TYPE,
          "java.lang.Short", Type.SHORT_TYPE,
          "java.lang.Character", Type.CHAR_TYPE,
          "java.lang.Integer", Type.INT_TYPE,
          "java.lang.Long", Type.LONG_TYPE,
          "java.lang.Float", Type.FLOAT_TYPE,
          "java.lang.Double", Type.DOUBLE_TYPE);

  private final Type function;
  private final Method method;
  private final List<Site> sites = new ArrayList<>();

  /**
   * A place that makes a function.
   *
   * @param target what the function calls
   * @param making types of what the place hands over, and of the function it gets
   * @param called types of arguments and result as the place knows them
   */
  private record Site(Handle target, Type making, Type called) {
    /** The method that makes the function. */
    Method maker() {
      List<Type> types = new ArrayList<>(List.of(making.getArgumentTypes()));
      types.add(Type.INT_TYPE);
      return new Method(MAKER, making.getReturnType(), types.toArray(Type[]::new));
    }

    /** The fields that hold what is captured, in its order: references are kept as objects. */
    Map<String, Type> fields() {
      Map<String, Integer> count = new HashMap<>();
      Map<String, Type> result = new LinkedHashMap<>();
      for (Type type : making.getArgumentTypes()) {
        String kind = isPrimitive(type) ? type.getDescriptor() : "A";
        result.put(kind + count.merge(kind, 1, Integer::sum), isPrimitive(type) ? type : OBJECT);
      }
      return result;
    }
  }

  /**
   * @param name name within the jar
   * @param first a call site of the kind that the class is for
   */
  FunctionClass(String name, InvokeDynamicInsnNode first) {
    super(name);
    this.function = Type.getReturnType(first.desc);
    this.method = new Method(first.name, ((Type) first.bsmArgs[0]).getDescriptor());
  }

  /** Whether a call site makes a function of one type that is not to be serialised. */
  static boolean replaces(InvokeDynamicInsnNode site) {
    return site.bsm.getOwner().equals(LINKER) && site.bsm.getName().equals(LINKS);
  }

  /** Whether a call site makes the same kind of function, and there is room for it. */
  boolean takes(InvokeDynamicInsnNode site) {
    return sites.size() < MOST
        && function.equals(Type.getReturnType(site.desc))
        && method.equals(new Method(site.name, ((Type) site.bsmArgs[0]).getDescriptor()));
  }

  /** The instruction that hands over the number of the next function, behind what is captured. */
  AbstractInsnNode number() {
    return new IntInsnNode(Opcodes.BIPUSH, sites.size());
  }

  /** Takes in a call site; the call to have in its place. */
  AbstractInsnNode add(InvokeDynamicInsnNode site) {
    Site added =
        new Site((Handle) site.bsmArgs[1], Type.getMethodType(site.desc), (Type) site.bsmArgs[2]);
    sites.add(added);
    String descriptor = added.maker().getDescriptor();
    return new MethodInsnNode(Opcodes.INVOKESTATIC, name(), MAKER, descriptor, false);
  }

  @Override
  String[] interfaces() {
    return new String[] {function.getInternalName()};
  }

  @Override
  void fill(ClassWriter writer) {
    field(writer, NUMBER, Type.INT_TYPE);
    Map<String, Type> fields = new LinkedHashMap<>();
    Map<Method, Site> makers = new LinkedHashMap<>();
    for (Site site : sites) {
      fields.putAll(site.fields());
      makers.put(site.maker(), site);
    }
    fields.forEach((name, type) -> field(writer, name, type));
    constructor(writer);
    makers.forEach((maker, site) -> maker(writer, maker, site));
    function(writer);
  }

  private static void field(ClassWriter writer, String name, Type type) {
    writer.visitField(0, name, type.getDescriptor(), null, null).visitEnd();
  }

  private static void constructor(ClassWriter writer) {
    GeneratorAdapter code = code(writer, 0, CONSTRUCTOR);
    code.loadThis();
    code.invokeConstructor(OBJECT, CONSTRUCTOR);
    code.returnValue();
    code.endMethod();
  }

  private void maker(ClassWriter writer, Method maker, Site site) {
    GeneratorAdapter code = code(writer, Opcodes.ACC_STATIC, maker);
    code.newInstance(self);
    code.dup();
    code.invokeConstructor(self, CONSTRUCTOR);
    Map<String, Type> fields = site.fields();
    fields.put(NUMBER, Type.INT_TYPE);
    int argument = 0;
    for (Map.Entry<String, Type> field : fields.entrySet()) {
      code.dup();
      code.loadArg(argument++);
      code.putField(self, field.getKey(), field.getValue());
    }
    code.returnValue();
    code.endMethod();
  }

  private void function(ClassWriter writer) {
    GeneratorAdapter code = code(writer, Opcodes.ACC_PUBLIC, method);
    if (sites.size() > 1) {
      code.loadThis();
      code.getField(self, NUMBER, Type.INT_TYPE);
      code.tableSwitch(IntStream.range(1, sites.size()).toArray(), cases(code));
    } else {
      call(code, sites.get(0));
    }
    code.endMethod();
  }

  private TableSwitchGenerator cases(GeneratorAdapter code) {
    return new TableSwitchGenerator() {
      @Override
      public void generateCase(int key, Label end) {
        call(code, sites.get(key));
      }

      @Override
      public void generateDefault() {
        call(code, sites.get(0));
      }
    };
  }

  /** Calls the target of one function and returns what it returns. */
  private void call(GeneratorAdapter code, Site site) {
    Handle target = site.target;
    Type owner = Type.getObjectType(target.getOwner());
    Method wanted = new Method(target.getName(), target.getDesc());
    boolean constructs = target.getTag() == Opcodes.H_NEWINVOKESPECIAL;
    List<Type> taken = new ArrayList<>(List.of(wanted.getArgumentTypes()));
    if (constructs) {
      code.newInstance(owner);
      code.dup();
    } else if (target.getTag() != Opcodes.H_INVOKESTATIC) {
      taken.add(0, owner);
    }
    int next = 0;
    for (Map.Entry<String, Type> field : site.fields().entrySet()) {
      code.loadThis();
      code.getField(self, field.getKey(), field.getValue());
      convert(code, field.getValue(), taken.get(next++));
    }
    Type[] known = site.called.getArgumentTypes();
    for (int i = 0; i < known.length; i++) {
      code.loadArg(i);
      convert(code, method.getArgumentTypes()[i], known[i]);
      convert(code, known[i], taken.get(next++));
    }
    invoke(code, target, owner, wanted);
    giveBack(code, constructs ? owner : wanted.getReturnType(), site.called.getReturnType());
  }

  /** Private methods of the nest are called as any other. */
  private static void invoke(GeneratorAdapter code, Handle target, Type owner, Method wanted) {
    int operation =
        switch (target.getTag()) {
          case Opcodes.H_NEWINVOKESPECIAL -> Opcodes.INVOKESPECIAL;
          case Opcodes.H_INVOKESTATIC -> Opcodes.INVOKESTATIC;
          default -> target.isInterface() ? Opcodes.INVOKEINTERFACE : Opcodes.INVOKEVIRTUAL;
        };
    code.visitMethodInsn(
        operation,
        owner.getInternalName(),
        wanted.getName(),
        wanted.getDescriptor(),
        target.isInterface());
  }

  private void giveBack(GeneratorAdapter code, Type returned, Type known) {
    Type due = method.getReturnType();
    if (!due.equals(Type.VOID_TYPE)) {
      convert(code, returned, known);
      convert(code, known, due);
    } else if (returned.getSize() == 2) {
      code.pop2();
    } else if (returned.getSize() == 1) {
      code.pop();
    }
    code.returnValue();
  }

  private static void convert(GeneratorAdapter code, Type from, Type to) {
    if (from.equals(to)) {
      return;
    }
    if (isPrimitive(from) && isPrimitive(to)) {
      code.cast(from, to);
    } else if (isPrimitive(from)) {
      code.valueOf(from);
    } else if (isPrimitive(to)) {
      Type boxed = UNBOXED.getOrDefault(from.getClassName(), to);
      code.unbox(boxed);
      code.cast(boxed, to);
    } else {
      code.checkCast(to);
    }
  }

  private static boolean isPrimitive(Type type) {
    return type.getSort() < Type.ARRAY;
  }
}
