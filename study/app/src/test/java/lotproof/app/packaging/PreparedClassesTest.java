package lotproof.app.packaging;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;

class PreparedClassesTest {
  private static final String NEW_SITE =
      "@lambda-proxy lotproof/app/Main get ([Ljava/lang/String;)Ljava/util/function/Supplier;"
          + " ()Ljava/lang/Object; REF_invokeStatic lotproof/app/Main lambda$start$0"
          + " ([Ljava/lang/String;)Ljava/lang/Integer; ()Ljava/lang/Integer;";
  private static final String OLD_SITE =
      "@lambda-proxy lotproof/app/LotproofCommand handleParseException"
          + " ()Lpicocli/CommandLine$IParameterExceptionHandler; ()I REF_invokeStatic"
          + " lotproof/app/LotproofCommand lambda$commandLine$2 ()I ()I";

  @Test
  void callSitesOfOldClassesAreLeftOut() {
    List<String> lines =
        List.of("picocli/CommandLine$IParameterExceptionHandler", NEW_SITE, OLD_SITE);
    assertThat(PreparedClasses.usable(lines)).containsExactlyElementsOf(lines.subList(0, 2));
  }

  @Test
  void ageIsReadFromTheClassItself() {
    assertThat(PreparedClasses.isOld("picocli/CommandLine")).isTrue();
    assertThat(PreparedClasses.isOld("lotproof/app/Main")).isFalse();
    assertThat(PreparedClasses.isOld("java/lang/String")).isFalse();
    assertThat(PreparedClasses.isOld("REF_invokeStatic")).isFalse();
  }
}
