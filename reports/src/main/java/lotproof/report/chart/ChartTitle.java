package lotproof.report.chart;

import java.awt.Font;
import java.awt.Graphics2D;
import java.awt.font.FontRenderContext;
import java.util.ArrayList;
import java.util.List;
import lotproof.report.model.Chart;
import lotproof.report.text.OutsideText;

/**
 * The question of a chart, over its drawing. On a page it stands in the text; a file has to carry
 * it.
 *
 * @param lines the question, broken to the width
 */
record ChartTitle(List<String> lines) {
  private static final Font FONT = ChartFonts.bold(14);
  private static final int LEFT = 10;
  private static final int ABOVE = 10;
  private static final int LINE = 19;
  private static final FontRenderContext SAME_EVERYWHERE = new FontRenderContext(null, true, true);

  ChartTitle {
    lines = List.copyOf(lines);
  }

  static ChartTitle of(Chart chart, int width) {
    List<String> lines = new ArrayList<>();
    StringBuilder line = new StringBuilder();
    for (String word : OutsideText.clean(chart.caption().question()).strip().split(" +", -1)) {
      String longer = line.isEmpty() ? word : line + " " + word;
      if (!line.isEmpty() && widthOf(longer) > width - 2 * LEFT) {
        lines.add(line.toString());
        line.setLength(0);
        line.append(word);
      } else {
        line.setLength(0);
        line.append(longer);
      }
    }
    lines.add(line.toString());
    return new ChartTitle(lines);
  }

  /** Height in drawing units. */
  int height() {
    return ABOVE + LINE * lines.size();
  }

  void draw(Graphics2D graphics) {
    graphics.setFont(FONT);
    graphics.setPaint(Ink.TEXT);
    for (int i = 0; i < lines.size(); i++) {
      if (!lines.get(i).isBlank()) {
        graphics.drawString(lines.get(i), LEFT, ABOVE + LINE * i + LINE - 5);
      }
    }
  }

  private static double widthOf(String text) {
    return FONT.getStringBounds(text, SAME_EVERYWHERE).getWidth();
  }
}
