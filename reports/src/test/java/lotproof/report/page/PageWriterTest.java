package lotproof.report.page;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.StringReader;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Consumer;
import java.util.stream.Stream;
import javax.xml.parsers.DocumentBuilderFactory;
import lotproof.report.MemorySink;
import lotproof.report.TestReports;
import lotproof.report.model.Report;
import lotproof.report.model.Table;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.w3c.dom.Attr;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import org.w3c.dom.NamedNodeMap;
import org.w3c.dom.Node;
import org.w3c.dom.NodeList;
import org.xml.sax.InputSource;

class PageWriterTest {
  private static final PageWriter WRITER = new PageWriter();

  static Stream<Report> reports() {
    return Stream.of(TestReports.full(), TestReports.hostile(), TestReports.empty());
  }

  @ParameterizedTest
  @MethodSource("reports")
  void isWellFormedAndReachesForNothing(Report report) throws Exception {
    Document page = parsed(report);

    List<String> reaching = new ArrayList<>();
    forEachAttribute(
        page,
        attribute -> {
          String name = attribute.getName();
          String value = attribute.getValue();
          boolean link = List.of("href", "src", "action", "data", "xlink:href").contains(name);
          boolean inside = value.startsWith("#");
          if (name.startsWith("on") || (link && !inside)) {
            reaching.add(name + "=" + value);
          }
          if (name.equals("style") && value.contains("url(") && !value.contains("url(#")) {
            reaching.add(name + "=" + value);
          }
        });
    assertThat(reaching).isEmpty();
    assertThat(elements(page, "script").stream().filter(s -> !s.hasAttribute("type"))).hasSize(1);
    assertThat(elements(page, "script").stream().map(s -> s.getAttribute("type")).distinct())
        .isSubsetOf("", "application/json");
    assertThat(elements(page, "link")).isEmpty();
    assertThat(elements(page, "img")).isEmpty();
    assertThat(elements(page, "iframe")).isEmpty();
    String style = elements(page, "style").get(0).getTextContent();
    assertThat(style).doesNotContain("http").doesNotContain("@import").doesNotContain("@REGULAR@");
  }

  @ParameterizedTest
  @MethodSource("reports")
  void namesEverythingOnce(Report report) throws Exception {
    Document page = parsed(report);

    List<String> ids = new ArrayList<>();
    List<String> references = new ArrayList<>();
    forEachAttribute(
        page,
        attribute -> {
          switch (attribute.getName()) {
            case "id" -> ids.add(attribute.getValue());
            case "aria-labelledby" ->
                references.addAll(List.of(attribute.getValue().split(" ", -1)));
            case "for" -> references.add(attribute.getValue());
            case "href" -> references.add(attribute.getValue().substring(1));
            case "clip-path" ->
                references.add(attribute.getValue().replaceAll("url\\(#(.*)\\)", "$1"));
            default -> {
              // carries no reference
            }
          }
        });
    assertThat(ids).doesNotHaveDuplicates().containsAll(references);
  }

  @ParameterizedTest
  @MethodSource("reports")
  void canBeReadAloud(Report report) throws Exception {
    Document page = parsed(report);

    assertThat(page.getDocumentElement().getAttribute("lang")).isEqualTo("en");
    assertThat(elements(page, "h1")).hasSize(1);
    int level = 0;
    for (Element heading : headings(page)) {
      int next = heading.getTagName().charAt(1) - '0';
      assertThat(next).as(heading.getTextContent()).isLessThanOrEqualTo(level + 1);
      level = next;
    }
    for (Element table : elements(page, "table")) {
      assertThat(table.getElementsByTagName("caption").getLength()).isEqualTo(1);
      NodeList heads = table.getElementsByTagName("th");
      for (int i = 0; i < heads.getLength(); i++) {
        assertThat(((Element) heads.item(i)).getAttribute("scope")).isEqualTo("col");
      }
    }
    for (Element svg : elements(page, "svg")) {
      assertThat(svg.getAttribute("role")).isEqualTo("img");
      assertThat(((Element) svg.getFirstChild()).getTagName()).isEqualTo("title");
    }
  }

  @Test
  void opensOnVerdictLevelsAndRisks() throws Exception {
    Report report = TestReports.full();
    Document page = parsed(report);
    assertThat(elements(page, "h1").get(0).getTextContent()).isEqualTo(report.verdict().text());
    assertThat(byId(page, "levels").getTextContent())
        .contains("Two-point", "±50 g", "not supported", "±60 g", "115", "±75 g");
    assertThat(byId(page, "level-two-point").getTextContent())
        .contains("What could make it wrong", "Three lots.", "Words for the product page");
  }

  @Test
  void showsEveryCellOfEveryTable() throws Exception {
    Report report = TestReports.full();
    Document page = parsed(report);

    for (Table table : report.tables()) {
      if (table.role() == Table.Role.EVIDENCE) {
        continue;
      }
      Element shown = byId(page, table.id());
      int rows =
          ((Element) shown.getElementsByTagName("tbody").item(0))
              .getElementsByTagName("tr")
              .getLength();
      assertThat(rows).as(table.title()).isEqualTo(Math.max(1, table.rows().size()));
      List<Double> numbers = new ArrayList<>();
      forEachAttribute(
          shown,
          attribute -> {
            if (attribute.getName().equals("data-v")) {
              numbers.add(Double.parseDouble(attribute.getValue()));
            }
          });
      assertThat(numbers)
          .isEqualTo(
              table.rows().stream()
                  .flatMap(row -> row.cells().stream())
                  .flatMap(cell -> cell.number().stream().boxed())
                  .toList());
    }
  }

  @Test
  void saysWhereTheRowsOfEvidenceAre() {
    assertThat(text(TestReports.hostile())).contains("Long: 3500 rows in tables/long.csv");
  }

  @Test
  void letsABrowserRunItsOwnScriptOnly() throws Exception {
    Document page = parsed(TestReports.hostile());
    String script =
        elements(page, "script").stream()
            .filter(s -> !s.hasAttribute("type"))
            .findFirst()
            .orElseThrow()
            .getTextContent();
    String hash =
        java.util.Base64.getEncoder()
            .encodeToString(
                java.security.MessageDigest.getInstance("SHA-256")
                    .digest(script.getBytes(java.nio.charset.StandardCharsets.UTF_8)));

    String policy =
        elements(page, "meta").stream()
            .filter(m -> m.getAttribute("http-equiv").equals("Content-Security-Policy"))
            .findFirst()
            .orElseThrow()
            .getAttribute("content");
    assertThat(policy).contains("default-src 'none'").contains("script-src 'sha256-" + hash + "'");
  }

  private static final Map<Report, String> WRITTEN = new ConcurrentHashMap<>();

  private static String text(Report report) {
    return WRITTEN.computeIfAbsent(
        report,
        any -> {
          MemorySink files = new MemorySink();
          WRITER.write(any, files);
          return files.text("report.html");
        });
  }

  private static Document parsed(Report report) throws Exception {
    String page = text(report);
    return DocumentBuilderFactory.newInstance()
        .newDocumentBuilder()
        .parse(new InputSource(new StringReader(page)));
  }

  private static Element byId(Document page, String id) {
    List<Element> found = new ArrayList<>();
    forEachAttribute(
        page,
        attribute -> {
          if (attribute.getName().equals("id") && attribute.getValue().equals(id)) {
            found.add(attribute.getOwnerElement());
          }
        });
    assertThat(found).as(id).hasSize(1);
    return found.get(0);
  }

  private static List<Element> headings(Document page) {
    return elements(page, "*").stream().filter(e -> e.getTagName().matches("h[1-6]")).toList();
  }

  private static List<Element> elements(Document page, String tag) {
    NodeList nodes = page.getElementsByTagName(tag);
    List<Element> elements = new ArrayList<>();
    for (int i = 0; i < nodes.getLength(); i++) {
      elements.add((Element) nodes.item(i));
    }
    return elements;
  }

  private static void forEachAttribute(Node node, Consumer<Attr> action) {
    NamedNodeMap attributes = node.getAttributes();
    for (int i = 0; attributes != null && i < attributes.getLength(); i++) {
      action.accept((Attr) attributes.item(i));
    }
    for (Node child = node.getFirstChild(); child != null; child = child.getNextSibling()) {
      forEachAttribute(child, action);
    }
  }
}
