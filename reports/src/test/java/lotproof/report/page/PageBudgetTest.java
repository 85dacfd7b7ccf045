package lotproof.report.page;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.StringReader;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.stream.IntStream;
import javax.xml.parsers.DocumentBuilderFactory;
import lotproof.claim.StudyAnalysis;
import lotproof.claim.StudyResult;
import lotproof.report.MemorySink;
import lotproof.report.assembly.DemoResult;
import lotproof.report.assembly.StudyReport;
import lotproof.study.ClaimRequest;
import lotproof.study.Study;
import lotproof.study.UnitKind;
import lotproof.study.Units;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import org.w3c.dom.Node;
import org.w3c.dom.NodeList;
import org.xml.sax.InputSource;

/** A page can be read in five minutes: words and charts are counted as a reader sees them. */
class PageBudgetTest {
  private static final int MOST_WORDS_FOLDED = 2500;
  private static final int MOST_WORDS = 6000;
  private static final int MOST_CHARTS = 9;

  @Test
  void theDemo() throws Exception {
    assertThat(verdict(counted(DemoResult.get())))
        .isEqualTo("Print ±50 g? Yes, after a one-point calibration. The data support ±34 g.");
  }

  @Test
  void whereNothingIsSupportedThePageSaysNo() throws Exception {
    Document page =
        counted(DemoResult.with(study -> DemoResult.claiming(study, ClaimRequest.Subject.KIT, 10)));
    assertThat(verdict(page))
        .isEqualTo("Print ±10 g? No, not after a one-point calibration. The data support ±34 g.");
    assertThat(page.getElementsByTagName("title").item(0).getTextContent()).contains("±10 g? No");
    assertThat(page.getDocumentElement().getTextContent()).contains("To reach ±10 g:");
  }

  @Test
  void boardsAloneAreNamedInTheVerdict() throws Exception {
    Document page =
        counted(
            DemoResult.with(study -> DemoResult.claiming(study, ClaimRequest.Subject.BOARD, 50)));
    assertThat(verdict(page)).startsWith("Print ±50 g for boards alone? Yes");
  }

  @Test
  void oneLotIsAmongTheGravestRisks() throws Exception {
    Document page =
        counted(
            DemoResult.with(
                study ->
                    DemoResult.claiming(study, ClaimRequest.Subject.KIT, 50)
                        .withUnits(
                            new Units(
                                List.of(joined(study, UnitKind.CELL)),
                                List.of(joined(study, UnitKind.BOARD)),
                                study.units().checkStandard()))));
    assertThat(page.getDocumentElement().getTextContent())
        .contains("One lot of cells proves one lot.");
  }

  @Test
  void sixUnitsOfOneLot() throws Exception {
    Document page = counted(analysed(6, 1));
    assertThat(verdict(page)).startsWith("Print ±500 g? Yes, without calibration.");
    assertThat(page.getDocumentElement().getTextContent())
        .contains("One lot of cells proves one lot.");
  }

  @Test
  @Tag("slow")
  void threeHundredUnitsOfEachKind() throws Exception {
    String page = page(analysed(300, 5));
    Document read = parsed(page);
    Node body = read.getElementsByTagName("body").item(0);
    assertThat(page.getBytes(StandardCharsets.UTF_8)).hasSizeLessThan(2_500_000);
    // with all open, every unit has its row
    assertThat(words(body, false)).isBetween(200, MOST_WORDS_FOLDED);
    assertThat(charts(body)).isBetween(3, MOST_CHARTS);
    assertThat(verdict(read)).startsWith("Print ±500 g? Yes, without calibration.");
  }

  private static StudyResult analysed(int units, int lots) {
    Study demo = DemoResult.study();
    InventedStudy invented = InventedStudy.of(demo, units, lots);
    return new StudyAnalysis(invented.study()).analyse(invented.readings(), List.of());
  }

  private static Units.Lot joined(Study study, UnitKind kind) {
    return new Units.Lot(kind, kind.key() + "s", study.units().serials(kind));
  }

  /** The page of a result, which keeps to the budget. */
  private static Document counted(StudyResult result) throws Exception {
    Document page = parsed(page(result));
    Node body = page.getElementsByTagName("body").item(0);
    int folded = words(body, false);
    assertThat(folded).as("words with all folds closed").isBetween(200, MOST_WORDS_FOLDED);
    assertThat(words(body, true)).as("words with all open").isBetween(folded, MOST_WORDS);
    assertThat(charts(body)).as("charts").isBetween(3, MOST_CHARTS);
    NodeList quotes = page.getElementsByTagName("div");
    IntStream.range(0, quotes.getLength())
        .mapToObj(i -> (Element) quotes.item(i))
        .filter(div -> div.getAttribute("class").equals("words"))
        .forEach(div -> assertThat(split(div.getTextContent())).isLessThanOrEqualTo(60));
    return page;
  }

  private static Document parsed(String page) throws Exception {
    return DocumentBuilderFactory.newInstance()
        .newDocumentBuilder()
        .parse(new InputSource(new StringReader(page)));
  }

  private static String page(StudyResult result) {
    MemorySink sink = new MemorySink();
    new PageWriter().write(StudyReport.of(result, "0".repeat(64), "test"), sink);
    return sink.text("report.html");
  }

  private static String verdict(Document page) {
    return page.getElementsByTagName("h1").item(0).getTextContent();
  }

  /**
   * Words of a place; of a closed fold those of its summary, of levels those of the leading one.
   */
  private static int words(Node place, boolean open) {
    if (place.getNodeType() == Node.TEXT_NODE) {
      return split(place.getTextContent());
    }
    int words = 0;
    for (Node child = place.getFirstChild(); child != null; child = child.getNextSibling()) {
      boolean closed =
          place instanceof Element parent && parent.getAttribute("class").equals("fold");
      if (shown(child) && (open || !closed || child.getNodeName().equals("summary"))) {
        words += words(child, open);
      }
    }
    return words;
  }

  private static int charts(Node place) {
    int charts = place.getNodeName().equals("figure") ? 1 : 0;
    for (Node child = place.getFirstChild(); child != null; child = child.getNextSibling()) {
      charts += shown(child) ? charts(child) : 0;
    }
    return charts;
  }

  private static boolean shown(Node node) {
    return !List.of("script", "style", "svg").contains(node.getNodeName())
        && !(node instanceof Element element
            && element.getAttribute("class").equals("level")
            && !element.hasAttribute("open"));
  }

  private static int split(String text) {
    String stripped = text.strip();
    return stripped.isEmpty() ? 0 : stripped.split("\\s+", -1).length;
  }
}
