package lotproof.app.packaging;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileSystem;
import java.nio.file.FileSystems;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.function.Supplier;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class PlainCallsTest {
  private static final String PLACE = "lotproof/app/packaging/CallSample";
  private static final List<String> SAMPLE =
      Stream.of("", "$1Local", "$Inner", "$Named", "$Nothing", "$Shape", "$Whole")
          .map(end -> PLACE + end + ".class")
          .toList();

  private static byte[] bytes(String name) {
    try (InputStream in = PlainCallsTest.class.getClassLoader().getResourceAsStream(name)) {
      return in.readAllBytes();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static List<byte[]> sample() {
    return SAMPLE.stream().map(PlainCallsTest::bytes).toList();
  }

  /** Runs the sample from class files, which the class loader of the test does not know. */
  @SuppressWarnings("unchecked")
  private static List<String> results(Map<String, byte[]> files) throws Exception {
    ClassLoader loader =
        new ClassLoader(null) {
          @Override
          protected Class<?> findClass(String name) throws ClassNotFoundException {
            byte[] content = files.get(name.replace('.', '/') + ".class");
            if (content == null) {
              throw new ClassNotFoundException(name);
            }
            return defineClass(name, content, 0, content.length);
          }
        };
    Class<?> type = loader.loadClass(CallSample.class.getName());
    return ((Supplier<List<String>>) type.getDeclaredConstructor().newInstance()).get();
  }

  private static boolean links(byte[] classFile) {
    return new String(classFile, StandardCharsets.ISO_8859_1).contains("LambdaMetafactory");
  }

  @Test
  void everyKindOfFunctionAndRecordSaysTheSame() throws Exception {
    Map<String, byte[]> after = PlainCalls.rewritten(sample());
    assertThat(after).hasSizeGreaterThan(SAMPLE.size() + 15);
    assertThat(results(after)).isEqualTo(new CallSample().get()).hasSizeGreaterThan(40);
  }

  @Test
  void noCallSiteIsLeft() throws Exception {
    assertThat(sample()).anyMatch(PlainCallsTest::links);
    Map<String, byte[]> after = PlainCalls.rewritten(sample());
    assertThat(after.keySet())
        .containsAll(SAMPLE)
        .contains(PLACE + "$Whole$$Record.class", PLACE + "$Nothing$$Record.class");
    // one for the functions that can be serialised
    assertThat(after.values()).filteredOn(PlainCallsTest::links).hasSize(1);
  }

  @Test
  void whatWasTreatedStaysTheSame() throws Exception {
    Map<String, byte[]> after = PlainCalls.rewritten(sample());
    assertThat(PlainCalls.rewritten(List.copyOf(after.values()))).isEmpty();
  }

  @Test
  void jarIsTreatedInPlaceAndTheSameEachTime(@TempDir Path folder) throws Exception {
    Path jar = folder.resolve("lotproof-sample.jar");
    try (FileSystem zip =
        FileSystems.newFileSystem(URI.create("jar:" + jar.toUri()), Map.of("create", "true"))) {
      Files.createDirectories(zip.getPath(PLACE).getParent());
      for (String name : SAMPLE) {
        Files.write(zip.getPath(name), bytes(name));
      }
      Files.writeString(zip.getPath("notice.txt"), "stays");
    }
    byte[] before = Files.readAllBytes(jar);
    PlainCalls.treat(jar);
    byte[] once = Files.readAllBytes(jar);
    PlainCalls.treat(jar);
    assertThat(Files.readAllBytes(jar)).isEqualTo(once).isNotEqualTo(before);
    Files.write(jar, before);
    PlainCalls.treat(jar);
    assertThat(Files.readAllBytes(jar)).isEqualTo(once);
    try (FileSystem zip = FileSystems.newFileSystem(jar);
        Stream<Path> files = Files.walk(zip.getPath("/"))) {
      assertThat(files.map(Path::toString)).anyMatch(f -> f.contains("CallSample$Inner$$0"));
      assertThat(zip.getPath("notice.txt")).hasContent("stays");
    }
  }
}
