package lotproof.app.packaging;

import org.objectweb.asm.ClassWriter;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.Type;
import org.objectweb.asm.commons.GeneratorAdapter;
import org.objectweb.asm.commons.Method;

/** A class that is added to the nest of another, so that it may use what is private there. */
abstract class NestClass {
  static final Type OBJECT = Type.getType(Object.class);

  /** The class itself. */
  final Type self;

  NestClass(String name) {
    this.self = Type.getObjectType(name);
  }

  /** Name within the jar. */
  final String name() {
    return self.getInternalName();
  }

  /**
   * The class file.
   *
   * @param version class file version of the class that it is added to
   * @param nest the head of the nest
   */
  final byte[] write(int version, String nest) {
    ClassWriter writer = new ClassWriter(ClassWriter.COMPUTE_FRAMES);
    int access = Opcodes.ACC_FINAL | Opcodes.ACC_SUPER | Opcodes.ACC_SYNTHETIC;
    writer.visit(version, access, name(), null, OBJECT.getInternalName(), interfaces());
    writer.visitNestHost(nest);
    fill(writer);
    writer.visitEnd();
    return writer.toByteArray();
  }

  /** Names of the interfaces of the class. */
  abstract String[] interfaces();

  /** Writes fields and methods. */
  abstract void fill(ClassWriter writer);

  static GeneratorAdapter code(ClassWriter writer, int access, Method method) {
    return new GeneratorAdapter(access, method, null, null, writer);
  }
}
