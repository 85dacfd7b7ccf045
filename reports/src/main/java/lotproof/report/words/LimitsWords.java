package lotproof.report.words;

import static lotproof.report.words.Numbers.digits;
import static lotproof.report.words.Numbers.percent;
import static lotproof.report.words.Numbers.plain;
import static lotproof.report.words.Numbers.text;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import lotproof.claim.upkeep.ProductionLimits;
import lotproof.claim.upkeep.ProductionLimits.LevelLimits;
import lotproof.claim.upkeep.ProductionTest.CannotProtect;
import lotproof.claim.upkeep.ProductionTest.Finished;
import lotproof.claim.upkeep.ProductionTest.LoadGuard;
import lotproof.claim.upkeep.ProductionTest.OnJig;
import lotproof.claim.upkeep.ProductionTest.Why;
import lotproof.claim.upkeep.Repeatability;
import lotproof.reduce.Direction;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.Study;

/** What production tests guarantee, or why they cannot, in sentences. */
public final class LimitsWords {
  private static final List<String> CAUTIONS =
      List.of(
          "Production limits protect a figure of reading. They are no safety limits and say nothing"
              + " about strength, overload or structure.",
          "Production limits make no instrument fit for trade: weighing that sets a price needs"
              + " type approval and verification under the local law.",
          "Production limits hold for the tester, masses and loads named here; re-evaluate if the"
              + " tester changes.");

  private final Study study;
  private final ProductionLimits limits;
  private final LevelLimits level;

  /** Speaks of the tests of one level of a study. */
  public LimitsWords(Study study, ProductionLimits limits, LevelLimits level) {
    this.study = study;
    this.limits = limits;
    this.level = level;
  }

  /** What production limits are not. */
  public static List<String> cautions() {
    return CAUTIONS;
  }

  /** The test of finished kits, or of units alone on the study's partner. */
  public String finished() {
    String subject = limits.subject().key();
    if (level.finished() instanceof Finished test) {
      return guarantee(test) + matched() + repeatability();
    }
    return level.finished() instanceof CannotProtect not
        ? "No limit protects the figure. " + why(not.why())
        : text(
            "The claim is for a %s alone, and a finished kit shows its %s and its partner together;"
                + " the test of each %s on a jig is the one that counts.",
            subject, subject, subject);
  }

  /** The tests of cells and boards alone. */
  public String jig() {
    if (level.jig() instanceof OnJig test) {
      return guarantee(test) + repeatability();
    }
    return level.jig() instanceof CannotProtect not
        ? "No limits of cells and boards alone protect the figure. " + why(not.why())
        : text(
            "The claim is for a %s alone on %s, and the test above is that test.",
            limits.subject().key(), StudyWords.partner(study));
  }

  private String guarantee(Finished test) {
    boolean sameReading = test.loads().get(test.readAt().get(0)).tested();
    boolean everyLoad = sameReading && test.readAt().size() == test.loads().size();
    String where =
        everyLoad
            ? "whichever lot it comes from"
            : text(
                "as long as production is like the one studied, because %s",
                sameReading
                    ? "loads that are not tested are predicted from the tested ones"
                    : "the effect of a change of temperature is predicted from readings at one"
                        + " temperature");
    return text(
        "If every %s is tested %s%s%s and ships only when it reads %s%s at %s, then any %s that"
            + " ships reads %s at all loads of the study%s%s, %s.",
        StudyWords.one(study),
        level.level().description(),
        level.correction().isPresent() ? ", corrected for temperature as in the study" : "",
        level.changeKelvin().isPresent() && limits.options().changesTemperature()
            ? ", calibrated at one temperature and read at another as in the study"
            : "",
        within(),
        acceptance(test.acceptGrams()),
        loads(test.readAt().stream().map(test.loads()::get).toList()),
        limits.subject().key(),
        figure(),
        beyond(),
        probability(),
        where);
  }

  private String guarantee(OnJig test) {
    boolean kits = limits.subject() == ClaimRequest.Subject.KIT;
    String unit = limits.subject().key();
    return text(
        "If every %s passes its own test (%s), any such %s reads %s %s%s at all loads of the"
            + " study%s%s%s, provided pairing and bench spread stay as measured.",
        kits ? "cell and every board" : unit,
        test.units().isEmpty() ? "no limit is needed" : "limits above",
        kits ? "cell with any such board" : unit,
        figure(),
        level.level().description(),
        level.correction().isPresent() ? ", corrected for temperature as in the study," : "",
        beyond(),
        kits ? "" : ", on an average partner,",
        probability());
  }

  /** Whose yield and predictions they are, where kits were matched. */
  private String matched() {
    return limits.matched()
        ? " The study's kits had boards that were matched to their cells: yield, risks and loads"
            + " that are not tested are those of kits matched in the same way."
        : "";
  }

  /** What the study does not know of repeats; empty where it knows them. */
  private String repeatability() {
    Repeatability known = level.repeatability();
    if (!known.isKnown()) {
      return text(
          " The study does not know how well a test of one %s repeats (%s, %s needed): the stated"
              + " uncertainty of the tester must hold that too.",
          limits.subject().key(), freedom(known.degreesOfFreedom()), Repeatability.NEEDED);
    }
    return known.pairingIncluded()
        ? " Too few pairs were measured again to tell what a repeat changes from what a cell and a"
            + " board do to each other; the repeatability taken holds both."
        : "";
  }

  private static String freedom(int degrees) {
    return degrees + (degrees == 1 ? " degree" : " degrees") + " of freedom";
  }

  private String within() {
    return limits.form().twoSided() ? "within " : "";
  }

  private String figure() {
    return within() + limits.form().words(level.figureGrams());
  }

  private String probability() {
    return text(" with a probability of %s %% or more", percent(limits.options().conformity()));
  }

  private String beyond() {
    OptionalDouble kelvin = level.changeKelvin();
    return kelvin.isPresent() && !limits.options().changesTemperature()
        ? text(
            ", used up to %s K away from its calibration",
            plain(Math.floor(10 * kelvin.getAsDouble()) / 10))
        : "";
  }

  /** A limit in the claim's form; a share of the reading is rounded inward. */
  private String acceptance(double grams) {
    if (limits.form() instanceof ClaimForm.OfReading share) {
      double percent = 100 * share.readingFraction() * grams / share.constantGrams();
      BigDecimal inward = BigDecimal.valueOf(percent).round(new MathContext(3, RoundingMode.DOWN));
      return text("±(%s %% of the load + %s g)", plain(inward.doubleValue()), plain(grams));
    }
    return limits.form().words(grams);
  }

  private static String loads(List<LoadGuard> loads) {
    List<String> words = new ArrayList<>();
    for (Direction direction : Direction.values()) {
      String kilograms =
          loads.stream()
              .filter(load -> load.direction() == direction)
              .map(load -> plain(load.loadKilograms()))
              .distinct()
              .collect(Collectors.joining(", "));
      if (!kilograms.isEmpty()) {
        words.add(kilograms + " kg " + direction.word());
      }
    }
    return String.join(" and ", words);
  }

  private String why(Why why) {
    if (why instanceof Why.NoTestedLoad none) {
      return text(
          "The calibration leaves no error at any of the test loads; the study has %s kg.",
          none.studyLoadsKilograms().stream()
              .map(Numbers::plain)
              .collect(Collectors.joining(", ")));
    }
    if (why instanceof Why.RepeatabilityNotKnown not) {
      return text(
          "The study does not know how well a test of one %s repeats: its runs leave %s for that,"
              + " and %s are needed. Measure %s more %s a second time, or state the tester's"
              + " standard uncertainty with what a repeat changes in it (limits --uncertainty).",
          limits.subject().key(),
          freedom(not.degreesOfFreedom()),
          not.needed(),
          not.needed() - not.degreesOfFreedom(),
          limits.subject().plural());
    }
    if (why instanceof Why.NothingLeft nothing) {
      return text(
          "Masses, loads between and correction take %s g, which leaves nothing of %s.",
          digits(nothing.addedGrams(), 3), limits.form().words(level.figureGrams()));
    }
    if (why instanceof Why.NoRoom room) {
      return noRoom(room);
    }
    if (why instanceof Why.NoKitMeasured) {
      return "The study measured cells and boards on reference partners and no kit, so it does not"
          + " say how a kit's error at one load follows from that at another; test at all"
          + " loads of the study, rising and falling.";
    }
    if (why instanceof Why.MatchedKits) {
      return "Boards were matched to their cells, so limits under which any cell may meet any board"
          + " protect nothing; test each kit as it ships.";
    }
    return why instanceof Why.NotEstimable not
        ? not.reason()
        : "Each unit met one partner only, so cells cannot be told from boards; limits for either"
            + " alone need a rotation or a crossing.";
  }

  private String noRoom(Why.NoRoom room) {
    String hint =
        room.predicted()
            ? limits.options().changesTemperature() || level.changeKelvin().isEmpty()
                ? "; test at that load too"
                : "; a test that calibrates at one temperature and reads at another need not"
                    + " predict it"
            : "";
    return text(
        "At %s kg %s the mean error (%s g), masses and other guard bands (%s g) and the allowance"
            + " for what the test does not see (%s g) leave no room for %s%s.",
        plain(room.loadKilograms()),
        room.direction().word(),
        digits(room.offsetGrams(), 3),
        digits(room.addedGrams(), 3),
        digits(room.allowanceGrams(), 3),
        limits.form().words(level.figureGrams()),
        hint);
  }
}
