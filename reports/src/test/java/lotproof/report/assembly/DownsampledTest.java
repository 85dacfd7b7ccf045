package lotproof.report.assembly;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

class DownsampledTest {
  private static final List<Integer> MANY = IntStream.range(0, 1000).boxed().toList();

  @Test
  void fewStayAsTheyAre() {
    List<Integer> few = MANY.subList(0, 40);
    assertThat(Downsampled.keepingExtremes(few, 40, i -> i)).isEqualTo(few);
    assertThat(Downsampled.words(few, few, "furthest out")).isEmpty();
  }

  @Test
  void ofManyTheExtremesStayAndTheRestIsEven() {
    // the furthest lie in the middle of the list
    List<Integer> drawn = Downsampled.keepingExtremes(MANY, 40, i -> -Math.abs(i - 500));
    assertThat(drawn).hasSize(40).isSorted().doesNotHaveDuplicates();
    assertThat(drawn).containsAll(IntStream.rangeClosed(496, 504).boxed().toList());
    assertThat(drawn.stream().filter(i -> i < 490)).hasSizeBetween(13, 17);
    assertThat(drawn.stream().filter(i -> i > 510)).hasSizeBetween(13, 17);
    assertThat(Downsampled.words(MANY, drawn, "furthest out")).contains("40 of them");
  }
}
