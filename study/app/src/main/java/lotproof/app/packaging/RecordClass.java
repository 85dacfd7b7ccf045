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
 * java.lang.runtime.ObjectMethods} answer, the same hash included.
 */
final class RecordClass {
  /** Owner of the method that puts the methods of records together. */
  static final String LINKER = "java/lang/runtime/ObjectMethods";

  private static final String HASH = "hashCode";
  private static final String EQUALS = "equals";
  private static final Type OBJECT = Type.getType(Object.class);
  private static final Type OBJECTS = Type.getType(Objects.class);
  private static final Method HASH_OF_OBJECT = Method.getMethod("int hashCode (Object)");
  private static final Method EQUAL_OBJECTS = Method.getMethod("boolean equals (Object, Object)");

  private final Type self;
  private final Type record;
  private final List<Handle> fields;

  /**
   * @param name name within the jar
   * @param site a call site in the record
   */
  RecordClass(String name, InvokeDynamicInsnNode site) {
    this.self = Type.getObjectType(name);
    this.record = (Type) site.bsmArgs[0];
    this.fields =
        Arrays.stream(site.bsmArgs)
            .filter(Handle.class::isInstance)
            .map(Handle.class::cast)
            .toList();
  }

  /** Whether a call site is for one of the two methods. */
  static boolean takes(InvokeDynamicInsnNode site) {
    return site.bsm.getOwner().equals(LINKER)
        && (site.name.equals(HASH) || site.name.equals(EQUALS));
  }

  String name() {
    return self.getInternalName();
  }

  /** The call to have in place of a call site. */
  AbstractInsnNode call(InvokeDynamicInsnNode site) {
    return new MethodInsnNode(Opcodes.INVOKESTATIC, name(), site.name, site.desc, false);
  }

  /**
   * The class file.
   *
   * @param version class file version of the record
   * @param nest the head of its nest
   */
  byte[] write(int version, String nest) {
    ClassWriter writer =
        new ClassWriter(ClassWriter.COMPUTE_FRAMES) {
          @Override
          protected String getCommonSuperClass(String one, String other) {
            return OBJECT.getInternalName();
          }
        };
    int access = Opcodes.ACC_FINAL | Opcodes.ACC_SUPER | Opcodes.ACC_SYNTHETIC;
    writer.visit(version, access, name(), null, OBJECT.getInternalName(), null);
    writer.visitNestHost(nest);
    hash(code(writer, new Method(HASH, Type.INT_TYPE, new Type[] {record})));
    equal(code(writer, new Method(EQUALS, Type.BOOLEAN_TYPE, new Type[] {record, OBJECT})));
    writer.visitEnd();
    return writer.toByteArray();
  }

  private static GeneratorAdapter code(ClassWriter writer, Method method) {
    return new GeneratorAdapter(Opcodes.ACC_STATIC, method, null, null, writer);
  }

  private void hash(GeneratorAdapter code) {
    code.push(0);
    for (Handle field : fields) {
      code.push(31);
      code.math(GeneratorAdapter.MUL, Type.INT_TYPE);
      code.loadArg(0);
      Type type = get(code, field);
      if (isReference(type)) {
        code.invokeStatic(OBJECTS, HASH_OF_OBJECT);
      } else {
        code.invokeStatic(box(type), new Method(HASH, Type.INT_TYPE, new Type[] {type}));
      }
      code.math(GeneratorAdapter.ADD, Type.INT_TYPE);
    }
    code.returnValue();
    code.endMethod();
  }

  private void equal(GeneratorAdapter code) {
    Label differ = code.newLabel();
    Label compare = code.newLabel();
    code.loadArg(0);
    code.loadArg(1);
    code.ifCmp(OBJECT, GeneratorAdapter.NE, compare);
    code.push(true);
    code.returnValue();
    code.mark(compare);
    code.loadArg(1);
    code.instanceOf(record);
    code.ifZCmp(GeneratorAdapter.EQ, differ);
    for (Handle field : fields) {
      code.loadArg(0);
      Type type = get(code, field);
      code.loadArg(1);
      code.checkCast(record);
      get(code, field);
      if (isReference(type)) {
        code.invokeStatic(OBJECTS, EQUAL_OBJECTS);
        code.ifZCmp(GeneratorAdapter.EQ, differ);
      } else if (type.equals(Type.DOUBLE_TYPE) || type.equals(Type.FLOAT_TYPE)) {
        // as boxes compare: a value that is no number equals itself
        code.invokeStatic(box(type), new Method("compare", Type.INT_TYPE, new Type[] {type, type}));
        code.ifZCmp(GeneratorAdapter.NE, differ);
      } else {
        code.ifCmp(type, GeneratorAdapter.NE, differ);
      }
    }
    code.push(true);
    code.returnValue();
    code.mark(differ);
    code.push(false);
    code.returnValue();
    code.endMethod();
  }

  private Type get(GeneratorAdapter code, Handle field) {
    Type type = Type.getType(field.getDesc());
    code.getField(record, field.getName(), type);
    return type;
  }

  private static boolean isReference(Type type) {
    return type.getSort() >= Type.ARRAY;
  }

  private static Type box(Type primitive) {
    return switch (primitive.getSort()) {
      case Type.BOOLEAN -> Type.getType(Boolean.class);
      case Type.BYTE -> Type.getType(Byte.class);
      case Type.SHORT -> Type.getType(Short.class);
      case Type.CHAR -> Type.getType(Character.class);
      case Type.INT -> Type.getType(Integer.class);
      case Type.LONG -> Type.getType(Long.class);
      case Type.FLOAT -> Type.getType(Float.class);
      default -> Type.getType(Double.class);
    };
  }
}
