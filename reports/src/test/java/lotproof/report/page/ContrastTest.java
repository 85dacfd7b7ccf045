package lotproof.report.page;

import static org.assertj.core.api.Assertions.assertThat;

import java.awt.Color;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Words must stand out from their ground by 4.5 to 1 (WCAG 2.2, success criterion 1.4.3). */
class ContrastTest {
  private static final Pattern NAMED =
      Pattern.compile("--(paper|ink|soft|deep|teal|rust|tint|mark): (#[0-9a-f]{6})");

  @ParameterizedTest
  @ValueSource(strings = {":root { color-scheme", "@media (prefers-color-scheme: dark)"})
  void wordsStandOut(String theme) {
    String style = PageAssets.load().style();
    Matcher named = NAMED.matcher(style.substring(style.indexOf(theme)));
    Map<String, Color> colors = new HashMap<>();
    while (colors.size() < 8 && named.find()) {
      colors.put(named.group(1), Color.decode(named.group(2)));
    }
    assertThat(colors).hasSize(8);
    for (String word : List.of("ink", "soft", "deep", "teal", "rust")) {
      for (String ground : List.of("paper", "tint")) {
        assertThat(contrast(colors.get(word), colors.get(ground)))
            .as(word + " on " + ground)
            .isGreaterThan(4.5);
      }
    }
    assertThat(contrast(colors.get("ink"), colors.get("mark"))).isGreaterThan(4.5);
  }

  @Test
  void contrastIsMeasuredAsDefined() {
    assertThat(contrast(Color.BLACK, Color.WHITE)).isEqualTo(21.0);
    // #767676 is the lightest grey that is allowed on white
    assertThat(contrast(new Color(0x767676), Color.WHITE)).isBetween(4.5, 4.6);
  }

  static double contrast(Color one, Color other) {
    double first = luminance(one) + 0.05;
    double second = luminance(other) + 0.05;
    return Math.max(first, second) / Math.min(first, second);
  }

  private static double luminance(Color color) {
    return 0.2126 * linear(color.getRed())
        + 0.7152 * linear(color.getGreen())
        + 0.0722 * linear(color.getBlue());
  }

  private static double linear(int channel) {
    double share = channel / 255.0;
    return share <= 0.04045 ? share / 12.92 : Math.pow((share + 0.055) / 1.055, 2.4);
  }
}
