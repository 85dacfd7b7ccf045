package lotproof.report.workbook;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.util.function.Function;
import javax.xml.stream.XMLOutputFactory;
import javax.xml.stream.XMLStreamException;
import javax.xml.stream.XMLStreamWriter;

/** Writes the markup of a part of a workbook; everything from outside is escaped. */
final class MarkupWriter {
  /** Writes elements. */
  interface Content {
    void write() throws XMLStreamException;
  }

  private final XMLStreamWriter writer;

  private MarkupWriter(XMLStreamWriter writer) {
    this.writer = writer;
  }

  /** Writes one document. */
  static void write(OutputStream out, Function<MarkupWriter, Content> content) throws IOException {
    try {
      XMLStreamWriter writer =
          XMLOutputFactory.newDefaultFactory()
              .createXMLStreamWriter(out, StandardCharsets.UTF_8.name());
      writer.writeStartDocument(StandardCharsets.UTF_8.name(), "1.0");
      content.apply(new MarkupWriter(writer)).write();
      writer.writeEndDocument();
      writer.close();
    } catch (XMLStreamException e) {
      throw new IOException("cannot write markup", e);
    }
  }

  /**
   * An element with others inside.
   *
   * @param name its name with prefix
   * @param attributes names and values in turn
   */
  void element(String name, Content content, String... attributes) throws XMLStreamException {
    writer.writeStartElement(name);
    attributes(attributes);
    content.write();
    writer.writeEndElement();
  }

  /** An element without content; attributes as names and values in turn. */
  void empty(String name, String... attributes) throws XMLStreamException {
    writer.writeEmptyElement(name);
    attributes(attributes);
  }

  /** An element whose only content is its value. */
  void value(String name, String value) throws XMLStreamException {
    empty(name, "val", value);
  }

  /** An element that holds words. */
  void words(String name, String words) throws XMLStreamException {
    writer.writeStartElement(name);
    writer.writeCharacters(words);
    writer.writeEndElement();
  }

  private void attributes(String... attributes) throws XMLStreamException {
    for (int i = 0; i < attributes.length; i += 2) {
      writer.writeAttribute(attributes[i], attributes[i + 1]);
    }
  }
}
