package lotproof;

import static com.tngtech.archunit.base.DescribedPredicate.not;
import static com.tngtech.archunit.core.domain.JavaClass.Predicates.equivalentTo;
import static com.tngtech.archunit.core.domain.JavaClass.Predicates.resideInAnyPackage;
import static com.tngtech.archunit.core.domain.JavaClass.Predicates.resideOutsideOfPackages;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;
import static org.assertj.core.api.Assertions.assertThat;

import com.tngtech.archunit.base.DescribedPredicate;
import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.domain.JavaModifier;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.lang.ArchCondition;
import com.tngtech.archunit.lang.ConditionEvents;
import com.tngtech.archunit.lang.SimpleConditionEvent;
import com.tngtech.archunit.library.GeneralCodingRules;
import java.util.Map;
import java.util.stream.Stream;
import lotproof.statistics.Checks;
import lotproof.study.Keyed;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The walls inside the engine: data flows from the plan to the claim and never back. */
class PackageWallsTest {
  private static final JavaClasses ENGINE =
      new ClassFileImporter()
          .withImportOption(ImportOption.Predefined.DO_NOT_INCLUDE_TESTS)
          .importPackages("lotproof");

  /**
   * Which packages of the engine each package may use; itself, the statistics and the sharing of
   * work it always may.
   */
  private static final Map<String, String[]> MAY_USE =
      Map.of(
          "study",
          new String[] {},
          "work",
          new String[] {},
          "folder",
          new String[] {"study"},
          "gather",
          new String[] {"study", "folder", "reduce"},
          "model",
          new String[] {"study"},
          "plan",
          new String[] {"study", "model", "folder"},
          "reduce",
          new String[] {"study"},
          "spread",
          new String[] {"study", "model", "reduce"},
          "review",
          new String[] {"study", "model", "reduce", "spread"},
          "claim",
          new String[] {"folder", "study", "model", "reduce", "spread", "review"});

  static Stream<String> packages() {
    return MAY_USE.keySet().stream().sorted();
  }

  private static String of(String name) {
    return "lotproof." + name + "..";
  }

  @Test
  void theWallsStandAroundSomething() {
    long engine =
        ENGINE.stream().filter(c -> !c.getPackageName().startsWith("lotproof.statistics")).count();
    assertThat(engine).isGreaterThanOrEqualTo(75);
    assertThat(ENGINE.stream().filter(c -> c.getPackageName().equals("lotproof.study")).count())
        .isGreaterThanOrEqualTo(25);
  }

  @Test
  void everyPackageOfTheEngineHasItsPlace() {
    assertThat(
            ENGINE.stream()
                .map(JavaClass::getPackageName)
                .filter(name -> !name.startsWith("lotproof.statistics"))
                .map(name -> name.replaceFirst("^lotproof\\.([a-z]+).*", "$1")))
        .isSubsetOf(MAY_USE.keySet());
  }

  @ParameterizedTest
  @MethodSource("packages")
  void eachPackageUsesOnlyWhatLiesBelowIt(String name) {
    String[] allowed =
        Stream.concat(Stream.of(MAY_USE.get(name)), Stream.of(name, "statistics", "work"))
            .map(PackageWallsTest::of)
            .toArray(String[]::new);
    DescribedPredicate<JavaClass> forbidden =
        resideInAnyPackage("lotproof..").and(resideOutsideOfPackages(allowed));

    noClasses()
        .that()
        .resideInAPackage(of(name))
        .should()
        .dependOnClassesThat(forbidden)
        .allowEmptyShould(true)
        .check(ENGINE);
  }

  @Test
  void theNounsUseNothingButJavaAndTheChecksOfNumbers() {
    noClasses()
        .that()
        .resideInAPackage(of("study"))
        .should()
        .dependOnClassesThat(
            resideOutsideOfPackages("lotproof.study..", "java..", "org.jspecify..")
                .and(not(equivalentTo(Checks.class))))
        .check(ENGINE);
  }

  @Test
  void noPackagesUseOneAnotherInACircle() {
    slices().matching("lotproof.(*)..").should().beFreeOfCycles().check(ENGINE);
  }

  @ParameterizedTest
  @ValueSource(strings = {"folder", "gather"})
  void noSubpackagesUseOneAnotherInACircle(String name) {
    slices()
        .matching("lotproof.(**)")
        .should()
        .beFreeOfCycles()
        .check(ENGINE.that(JavaClass.Predicates.resideInAPackage(of(name))));
  }

  @Test
  void theEngineKnowsNoSpreadsheetChartOrTerminal() {
    noClasses()
        .should()
        .dependOnClassesThat(
            resideInAnyPackage(
                "org.apache.poi..", "org.jfree..", "picocli..", "gg.jte..", "me.tongfei.."))
        .check(ENGINE);
  }

  @Test
  void nothingIsPrintedOrLogged() {
    GeneralCodingRules.NO_CLASSES_SHOULD_ACCESS_STANDARD_STREAMS.check(ENGINE);
    GeneralCodingRules.NO_CLASSES_SHOULD_USE_JAVA_UTIL_LOGGING.check(ENGINE);
  }

  @Test
  void nounsAreRecordsAndClosedSets() {
    classes()
        .that()
        .resideInAPackage("lotproof.study")
        .and()
        .doNotHaveSimpleName("package-info")
        .should(beANoun())
        .check(ENGINE);
  }

  private static ArchCondition<JavaClass> beANoun() {
    return new ArchCondition<>(
        "be a record, an enum, what enums share or a sealed interface, or hidden") {
      @Override
      public void check(JavaClass type, ConditionEvents events) {
        boolean sealed = type.isInterface() && type.reflect().isSealed();
        boolean noun =
            type.isRecord() || type.isEnum() || sealed || type.isEquivalentTo(Keyed.class);
        boolean hidden = !type.getModifiers().contains(JavaModifier.PUBLIC);
        events.add(new SimpleConditionEvent(type, noun || hidden, type.getName() + " is no noun"));
      }
    };
  }
}
