package lotproof.app.packaging;

import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import org.objectweb.asm.ClassWriter;
import org.objectweb.asm.Handle;
import org.objectweb.asm.Label;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.Type;
import org.objectweb.asm.commons.GeneratorAdapter;
import org.objectweb.asm.commons.Method;
import org.objectweb.asm.tree.AbstractInsnNode;
import org.objectweb.asm.tree.InvokeDynamicInsnNode;
import org.objectweb.asm.tree.MethodInsnNode;

/**
 * A class beside a record with its {@code hashCode} and {@code equals}, which the compiler leaves
 * to Java to put together at run time. They answer what those of {@link
 * java.lang.runtime.ObjectMethods} answer, the same hash included: what is primitive counts as its
 * box does.
 */
final class RecordClass extends NestClass {
  /** Owner of the method that puts the methods of records together. */
  private static final String LINKER = "java/lang/runtime/ObjectMethods";

  private static final String HASH = "hashCode";
  private static final String EQUALS = "equals";
  private static final Type OBJECTS = Type.getType(Objects.class);
  private static final Method HASH_OF_OBJECT = Method.getMethod("int hashCode (Object)");
  private static final Method EQUAL_OBJECTS = Method.getMethod("boolean equals (Object, Object)");

  private final Type record;
  private final List<Handle> fields;

  /**
   * @param name name within the jar
   * @param site a call site in the record
   */
  RecordClass(String name, InvokeDynamicInsnNode site) {
    super(name);
    this.record = (Type) site.bsmArgs[0];
    this.fields =
        Arrays.stream(site.bsmArgs)
            .filter(Handle.class::isInstance)
            .map(Handle.class::cast)
            .toList();
  }

  /** Whether a call site is for one of the two methods. */
  static boolean replaces(InvokeDynamicInsnNode site) {
    return site.bsm.getOwner().equals(LINKER)
        && (site.name.equals(HASH) || site.name.equals(EQUALS));
  }

  /** The call to have in place of a call site. */
  AbstractInsnNode call(InvokeDynamicInsnNode site) {
    return new MethodInsnNode(Opcodes.INVOKESTATIC, name(), site.name, site.desc, false);
  }

  @Override
  String[] interfaces() {
    return new String[0];
  }

  @Override
  void fill(ClassWriter writer) {
    hash(writer);
    equal(writer);
  }

  private void hash(ClassWriter writer) {
    Method method = new Method(HASH, Type.INT_TYPE, new Type[] {record});
    GeneratorAdapter code = code(writer, Opcodes.ACC_STATIC, method);
    code.push(0);
    for (Handle field : fields) {
      code.push(31);
      code.math(GeneratorAdapter.MUL, Type.INT_TYPE);
      code.loadArg(0);
      get(code, field);
      code.invokeStatic(OBJECTS, HASH_OF_OBJECT);
      code.math(GeneratorAdapter.ADD, Type.INT_TYPE);
    }
    code.returnValue();
    code.endMethod();
  }

  private void equal(ClassWriter writer) {
    Method method = new Method(EQUALS, Type.BOOLEAN_TYPE, new Type[] {record, OBJECT});
    GeneratorAdapter code = code(writer, Opcodes.ACC_STATIC, method);
    Label same = code.newLabel();
    Label different = code.newLabel();
    code.loadArg(0);
    code.loadArg(1);
    code.ifCmp(OBJECT, GeneratorAdapter.EQ, same);
    code.loadArg(1);
    code.instanceOf(record);
    code.ifZCmp(GeneratorAdapter.EQ, different);
    for (Handle field : fields) {
      code.loadArg(0);
      get(code, field);
      code.loadArg(1);
      code.checkCast(record);
      get(code, field);
      code.invokeStatic(OBJECTS, EQUAL_OBJECTS);
      code.ifZCmp(GeneratorAdapter.EQ, different);
    }
    code.mark(same);
    code.push(true);
    code.returnValue();
    code.mark(different);
    code.push(false);
    code.returnValue();
    code.endMethod();
  }

  /** Leaves the value of a field of the record on the stack, boxed. */
  private void get(GeneratorAdapter code, Handle field) {
    Type type = Type.getType(field.getDesc());
    code.getField(record, field.getName(), type);
    code.valueOf(type);
  }
}
