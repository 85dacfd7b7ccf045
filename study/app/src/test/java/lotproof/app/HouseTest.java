package lotproof.app;

import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;
import static org.assertj.core.api.Assertions.assertThat;

import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.domain.JavaCodeUnit;
import com.tngtech.archunit.core.domain.JavaModifier;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.library.dependencies.SliceAssignment;
import com.tngtech.archunit.library.dependencies.SliceIdentifier;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;

/** The size of things in the whole program: what a reader can keep in mind. */
class HouseTest {
  private static final int MOST_FILES = 30;
  private static final int MOST_COMPONENTS = 12;
  private static final int MOST_PARAMETERS = 6;

  /** Started by Java itself, or constants that the compiler copies to where they are used. */
  private static final Set<String> USED_UNSEEN =
      Set.of("lotproof.app.Main", "lotproof.app.Schemas", "lotproof.app.cli.Exit");

  private static final Pattern TEST_CLASSES = Pattern.compile(".*(/test-classes/|-test/).*");
  private static final JavaClasses PROGRAM =
      new ClassFileImporter()
          .withImportOption(location -> !location.matches(TEST_CLASSES))
          .importPackages("lotproof");

  private static final SliceAssignment EACH_PACKAGE =
      new SliceAssignment() {
        @Override
        public SliceIdentifier getIdentifierOf(JavaClass type) {
          return SliceIdentifier.of(type.getPackageName());
        }

        @Override
        public String getDescription() {
          return "packages";
        }
      };

  private static boolean written(JavaClass type) {
    return !type.getSimpleName().equals("package-info")
        && !type.getSimpleName().startsWith("Jte")
        && !type.isAnonymousClass();
  }

  private static JavaClass outermost(JavaClass type) {
    return type.getEnclosingClass().map(HouseTest::outermost).orElse(type);
  }

  private static boolean topLevel(JavaClass type) {
    return written(type) && type.getEnclosingClass().isEmpty();
  }

  @Test
  void noPackagesUseOneAnotherInACircle() {
    slices().assignedFrom(EACH_PACKAGE).should().beFreeOfCycles().check(PROGRAM);
  }

  @Test
  void noPackageHasMoreFilesThanAReaderCanOversee() {
    Map<String, Long> files =
        PROGRAM.stream()
            .filter(HouseTest::topLevel)
            .collect(
                Collectors.groupingBy(
                    JavaClass::getPackageName, TreeMap::new, Collectors.counting()));
    assertThat(files.values()).hasSizeGreaterThan(20);
    assertThat(files.entrySet().stream().filter(entry -> entry.getValue() > MOST_FILES)).isEmpty();
  }

  @Test
  void noRecordHasMoreThanTwelveComponents() {
    List<JavaClass> records = PROGRAM.stream().filter(JavaClass::isRecord).toList();
    assertThat(records).hasSizeGreaterThan(100);
    assertThat(
            records.stream()
                .filter(type -> type.reflect().getRecordComponents().length > MOST_COMPONENTS)
                .map(JavaClass::getName))
        .isEmpty();
  }

  @Test
  void nothingTakesMoreThanSixParameters() {
    assertThat(
            PROGRAM.stream()
                .filter(HouseTest::written)
                .flatMap(type -> type.getCodeUnits().stream())
                .filter(unit -> !unit.getModifiers().contains(JavaModifier.SYNTHETIC))
                .filter(unit -> !madeForARecord(unit))
                .filter(unit -> parameters(unit) > MOST_PARAMETERS)
                .map(JavaCodeUnit::getFullName))
        .isEmpty();
  }

  /** An enum's constructor has two parameters that nobody wrote: name and place. */
  private static int parameters(JavaCodeUnit unit) {
    int all = unit.getRawParameterTypes().size();
    return unit.isConstructor() && unit.getOwner().isEnum() ? all - 2 : all;
  }

  /** The constructor that lists the components of a record has their number. */
  private static boolean madeForARecord(JavaCodeUnit unit) {
    return unit.isConstructor()
        && unit.getOwner().isRecord()
        && unit.getRawParameterTypes().size()
            == unit.getOwner().reflect().getRecordComponents().length;
  }

  @Test
  void publicIsOnlyWhatAnotherPackageUses() {
    Set<JavaClass> used =
        PROGRAM.stream()
            .flatMap(type -> type.getDirectDependenciesFromSelf().stream())
            .filter(
                use ->
                    !use.getOriginClass()
                        .getPackageName()
                        .equals(use.getTargetClass().getPackageName()))
            .map(use -> outermost(use.getTargetClass().getBaseComponentType()))
            .collect(Collectors.toSet());
    assertThat(
            PROGRAM.stream()
                .filter(HouseTest::topLevel)
                .filter(type -> type.getModifiers().contains(JavaModifier.PUBLIC))
                .filter(type -> !used.contains(type))
                .filter(type -> !USED_UNSEEN.contains(type.getName()))
                .map(JavaClass::getName)
                .sorted())
        .isEmpty();
  }
}
