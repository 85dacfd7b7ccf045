package lotproof.app.packaging;

import java.io.IOException;
import java.nio.file.FileSystem;
import java.nio.file.FileSystems;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.BasicFileAttributeView;
import java.nio.file.attribute.FileTime;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.stream.Stream;
import org.objectweb.asm.ClassReader;
import org.objectweb.asm.ClassWriter;
import org.objectweb.asm.tree.AbstractInsnNode;
import org.objectweb.asm.tree.ClassNode;
import org.objectweb.asm.tree.InvokeDynamicInsnNode;
import org.objectweb.asm.tree.MethodNode;

/**
 * Makes plain calls of what the compiler leaves to be linked at run time, when it is first reached;
 * run by the build on the finished jars. A report reaches more than a thousand such places.
 *
 * <ul>
 *   <li>Lambda expressions and method references: those of one class that make the same kind of
 *       function share a {@link FunctionClass}.
 *   <li>{@code hashCode} and {@code equals} of records: in a {@link RecordClass}.
 * </ul>
 *
 * <p>Sources and what tests run stay as they are, and a jar that was treated already stays the
 * same.
 */
final class PlainCalls {
  private static final String CLASS = ".class";

  private final Map<String, ClassNode> classes = new LinkedHashMap<>();
  private final Set<ClassNode> changed = new LinkedHashSet<>();
  private final Map<String, byte[]> made = new LinkedHashMap<>();

  private PlainCalls(List<byte[]> classFiles) {
    for (byte[] bytes : classFiles) {
      ClassNode node = new ClassNode();
      new ClassReader(bytes).accept(node, 0);
      classes.put(node.name, node);
    }
  }

  /** Takes the folder with lotproof.jar and, in lib, its libraries. */
  public static void main(String[] args) throws IOException {
    List<Path> jars;
    try (Stream<Path> files = Files.walk(Path.of(args[0]), 2)) {
      jars =
          files.filter(p -> p.getFileName().toString().matches("lotproof[\\w.-]*\\.jar")).toList();
    }
    for (Path jar : jars) {
      treat(jar);
    }
  }

  /** Treats one jar in place. */
  static void treat(Path jar) throws IOException {
    try (FileSystem inside = FileSystems.newFileSystem(jar)) {
      Path root = inside.getPath("/");
      List<byte[]> before = new ArrayList<>();
      List<Path> files;
      try (Stream<Path> all = Files.walk(root)) {
        files = all.filter(p -> p.toString().endsWith(CLASS)).sorted().toList();
      }
      for (Path file : files) {
        before.add(Files.readAllBytes(file));
      }
      for (Map.Entry<String, byte[]> entry : rewritten(before).entrySet()) {
        Path file = root.resolve(entry.getKey());
        Files.write(file, entry.getValue());
        // all files of a jar have one time, so that the same jar comes out again
        FileTime time = Files.getLastModifiedTime(files.get(0));
        Files.getFileAttributeView(file, BasicFileAttributeView.class).setTimes(time, time, time);
      }
    }
  }

  /**
   * The classes of a jar that change and those that are new, by their names within the jar.
   *
   * @param classFiles all classes of the jar
   */
  static Map<String, byte[]> rewritten(List<byte[]> classFiles) {
    PlainCalls work = new PlainCalls(classFiles);
    work.classes.values().forEach(work::rewrite);
    Map<String, byte[]> result = new LinkedHashMap<>();
    for (ClassNode node : work.changed) {
      ClassWriter writer = new ClassWriter(ClassWriter.COMPUTE_MAXS);
      node.accept(writer);
      result.put(node.name + CLASS, writer.toByteArray());
    }
    work.made.forEach((name, content) -> result.put(name + CLASS, content));
    return result;
  }

  private void rewrite(ClassNode host) {
    List<FunctionClass> functions = new ArrayList<>();
    Map<String, NestClass> added = new LinkedHashMap<>();
    for (MethodNode method : host.methods) {
      for (AbstractInsnNode instruction : method.instructions.toArray()) {
        if (!(instruction instanceof InvokeDynamicInsnNode site)) {
          continue;
        }
        if (FunctionClass.replaces(site)) {
          FunctionClass own = placeFor(site, host, functions);
          method.instructions.insertBefore(site, own.number());
          method.instructions.set(site, own.add(site));
        } else if (RecordClass.replaces(site)) {
          RecordClass own = new RecordClass(host.name + "$$Record", site);
          method.instructions.set(site, own.call(site));
          // one class for both methods: each call site tells the same fields
          added.put(own.name(), own);
        }
      }
    }
    functions.forEach(own -> added.put(own.name(), own));
    String nest = host.nestHostClass == null ? host.name : host.nestHostClass;
    ClassNode head = Objects.requireNonNull(classes.get(nest), nest);
    added.values().forEach(one -> add(one, host, head));
  }

  private void add(NestClass added, ClassNode host, ClassNode head) {
    made.put(added.name(), added.write(host.version, head.name));
    if (head.nestMembers == null) {
      head.nestMembers = new ArrayList<>();
    }
    head.nestMembers.add(added.name());
    changed.add(host);
    changed.add(head);
  }

  /** The last class for this kind of function, or a new one when there is none or it is full. */
  private static FunctionClass placeFor(
      InvokeDynamicInsnNode site, ClassNode host, List<FunctionClass> functions) {
    for (int i = functions.size() - 1; i >= 0; i--) {
      if (functions.get(i).takes(site)) {
        return functions.get(i);
      }
    }
    FunctionClass added = new FunctionClass(host.name + "$$" + functions.size(), site);
    functions.add(added);
    return added;
  }
}
