package lotproof.report;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Collections;
import java.util.Map;
import java.util.SortedMap;
import java.util.concurrent.ConcurrentSkipListMap;

/** Files in memory; from several threads at once. */
public final class MemorySink implements OutputSink {
  private final SortedMap<String, byte[]> files = new ConcurrentSkipListMap<>();

  @Override
  public void put(String name, Content content) {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try {
      content.writeTo(bytes);
    } catch (IOException e) {
      throw new UncheckedIOException("cannot write " + name, e);
    }
    files.put(OutputSink.checkedName(name), bytes.toByteArray());
  }

  /** All files by name. */
  public Map<String, byte[]> files() {
    return Collections.unmodifiableSortedMap(files);
  }

  /** One file's bytes. */
  public byte[] bytes(String name) {
    byte[] content = files.get(name);
    if (content == null) {
      throw new IllegalArgumentException("no file " + name + ", only " + files.keySet());
    }
    return content.clone();
  }

  /** One file's text. */
  public String text(String name) {
    return new String(bytes(name), StandardCharsets.UTF_8);
  }
}
