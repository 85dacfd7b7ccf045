package lotproof.report.chart;

import static org.assertj.core.api.Assertions.assertThat;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.geom.AffineTransform;
import java.awt.geom.Line2D;
import java.awt.geom.Rectangle2D;
import org.jfree.svg.SVGGraphics2D;
import org.junit.jupiter.api.Test;

class CompactSvgTest {
  private static final Rectangle2D EDGE = new Rectangle2D.Double(0, 0, 300, 200);

  @Test
  void saysAStyleOnce() {
    SVGGraphics2D graphics = graphics();
    graphics.setPaint(new Color(1, 2, 3));
    for (int i = 0; i < 5; i++) {
      graphics.fill(new Rectangle2D.Double(10 * i, 10, 5, 5));
    }

    String compact = compact(graphics);

    assertThat(compact).startsWith("<style>#here .s0{fill:rgb(1,2,3)").doesNotContain("style='");
    assertThat(compact.split("class='s0'", -1)).hasSize(6);
    assertThat(compact.split("rgb\\(1,2,3\\)", -1)).hasSize(2);
  }

  @Test
  void keepsStylesApart() {
    SVGGraphics2D graphics = graphics();
    graphics.setPaint(Color.RED);
    for (float wide = 1; wide < 4; wide++) {
      graphics.setStroke(new BasicStroke(wide));
      graphics.draw(new Line2D.Double(0, wide, 9, 20));
    }

    assertThat(compact(graphics))
        .containsSubsequence(".s0{stroke-width:1", ".s1{stroke-width:2", ".s2{stroke-width:3")
        .containsSubsequence("class='s0'", "class='s1'", "class='s2'");
  }

  @Test
  void clipsToTheEdgeOnlyWhereAViewerDoesNot() {
    SVGGraphics2D graphics = graphics();
    graphics.clip(EDGE);
    graphics.drawString("upright", 20, 20);
    AffineTransform upright = graphics.getTransform();
    graphics.rotate(-Math.PI / 4, 60, 60);
    graphics.drawString("turned", 60, 60);
    graphics.drawGlyphVector(
        graphics.getFont().createGlyphVector(graphics.getFontRenderContext(), "t"), 60, 90);
    graphics.setTransform(upright);
    graphics.clip(new Rectangle2D.Double(50, 50, 100, 90));
    graphics.fill(new Rectangle2D.Double(0, 0, 300, 200));

    String compact = compact(graphics);

    assertThat(compact.split("<clipPath ", -1)).hasSize(2);
    assertThat(compact.split("clip-path=", -1)).hasSize(2);
    assertThat(compact).contains("M50.0,50.0L50.0,140.0L150.0,140.0L150.0,50.0Z");
  }

  @Test
  void leavesWordsAlone() {
    SVGGraphics2D graphics = graphics();
    graphics.drawString("a style='fill:red' clip-path='url(#x)' $1 \\", 10, 10);

    assertThat(compact(graphics))
        .contains(">a style=&apos;fill:red&apos; clip-path=&apos;url(#x)&apos; $1 \\</text>");
  }

  private static SVGGraphics2D graphics() {
    return new SVGGraphics2D(EDGE.getWidth(), EDGE.getHeight());
  }

  private static String compact(SVGGraphics2D graphics) {
    String drawn = graphics.getSVGElement();
    int from = drawn.indexOf('>') + 1;
    return CompactSvg.of(
        drawn.substring(from, drawn.lastIndexOf("</svg>")),
        "here",
        EDGE.getWidth(),
        EDGE.getHeight());
  }
}
