package lotproof.study;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

class CaptureNoteTest {
  @Test
  void whatIsWrittenIsReadAgain() {
    CaptureNote plain = new CaptureNote(800, "", "");
    assertThat(plain.after("")).isEqualTo("capture of 800 samples");
    CaptureNote full = new CaptureNote(1200, ", 3 left out as glitches", "rate 80; unit counts");
    for (String own : new String[] {"", "cell re-seated; twice"}) {
      assertThat(CaptureNote.in(plain.after(own))).contains(plain);
      assertThat(CaptureNote.in(full.after(own))).contains(full);
    }
    assertThat(CaptureNote.in("a capture of samples")).isEmpty();
    assertThat(CaptureNote.in("")).isEmpty();
  }
}
