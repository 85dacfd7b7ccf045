package lotproof.report.chart;

import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A drawing that says each style once. The drawing library writes the whole style on every line and
 * clips everything to the drawing's own edge, which its viewer does anyway; both together are half
 * of its text.
 */
final class CompactSvg {
  private static final String STYLE = " style='";
  private static final String CLIP = " clip-path='url(#";
  private static final Pattern CLIP_PATH =
      Pattern.compile("<clipPath id='([^']+)'><path d='([^']*)'/></clipPath>");
  private static final Pattern PAIR = Pattern.compile("[ML](-?[0-9.]+),(-?[0-9.]+)");

  /** More than rounding coordinates to hundredths can do to a length. */
  private static final double ROUNDING = 0.05;

  private final String scope;
  private final double width;
  private final double height;
  private final Map<String, String> classes = new LinkedHashMap<>();
  private final Set<String> edges = new HashSet<>();

  private CompactSvg(String scope, double width, double height) {
    this.scope = scope;
    this.width = width;
    this.height = height;
  }

  /**
   * Rewrites what stands between the opening and the closing tag of a drawing. Texts within it have
   * their quotes escaped, so that no word of theirs is taken for an attribute.
   *
   * @param drawn what the library wrote
   * @param scope id of the element that will hold it
   */
  static String of(String drawn, String scope, double width, double height) {
    return new CompactSvg(scope, width, height).rewritten(drawn);
  }

  private String rewritten(String drawn) {
    int from = drawn.indexOf("<defs>");
    int to = drawn.indexOf("</defs>");
    StringBuilder clips = new StringBuilder();
    int rest = 0;
    if (from >= 0 && to >= 0) {
      clips.append("<defs>");
      rest = to + "</defs>".length();
      Matcher clip = CLIP_PATH.matcher(drawn).region(from, to);
      while (clip.find()) {
        if (isEdge(clip.group(2))) {
          edges.add(clip.group(1));
        } else {
          clips.append(clip.group());
        }
      }
      clips.append("</defs>");
    }
    StringBuilder lines = new StringBuilder(drawn.length());
    appendLines(drawn, rest, lines);
    StringBuilder all = new StringBuilder(lines.length() + clips.length() + 200 * classes.size());
    all.append("<style>");
    classes.forEach(
        (style, name) ->
            all.append('#')
                .append(scope)
                .append(" .")
                .append(name)
                .append('{')
                .append(style)
                .append('}'));
    return all.append("</style>").append(clips).append(lines).toString();
  }

  private void appendLines(String drawn, int start, StringBuilder lines) {
    int at = start;
    int next = drawn.indexOf(STYLE, at);
    while (next >= 0) {
      int from = next + STYLE.length();
      int to = drawn.indexOf('\'', from);
      // a piece at once: a builder takes a part of a text letter by letter
      lines.append(drawn.substring(at, next));
      String style = drawn.substring(from, to);
      lines.append(" class='").append(classes.computeIfAbsent(style, s -> name())).append('\'');
      at = drawn.indexOf('>', to);
      lines.append(unlessEdge(drawn.substring(to + 1, at)));
      next = drawn.indexOf(STYLE, at);
    }
    lines.append(drawn.substring(at));
  }

  /** The attributes behind a style, without a clip to the edge. */
  private String unlessEdge(String attributes) {
    int clip = attributes.indexOf(CLIP);
    if (clip < 0) {
      return attributes;
    }
    int end = attributes.indexOf(")'", clip);
    return edges.contains(attributes.substring(clip + CLIP.length(), end))
        ? attributes.substring(0, clip) + attributes.substring(end + 2)
        : attributes;
  }

  private String name() {
    return "s" + classes.size();
  }

  /** Whether a clip is the edge of the whole drawing, also as turned words see it. */
  private boolean isEdge(String path) {
    double[] x = new double[3];
    double[] y = new double[3];
    Matcher pair = PAIR.matcher(path);
    for (int i = 0; i < 3; i++) {
      if (!pair.find()) {
        return false;
      }
      x[i] = Double.parseDouble(pair.group(1));
      y[i] = Double.parseDouble(pair.group(2));
    }
    double one = Math.hypot(x[1] - x[0], y[1] - y[0]);
    double other = Math.hypot(x[2] - x[1], y[2] - y[1]);
    return (near(one, width) && near(other, height)) || (near(one, height) && near(other, width));
  }

  private static boolean near(double one, double other) {
    return Math.abs(one - other) < ROUNDING;
  }
}
