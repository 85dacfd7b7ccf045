package lotproof.report.words;

import static lotproof.report.words.Numbers.counted;
import static lotproof.report.words.Numbers.digits;
import static lotproof.report.words.Numbers.percent;
import static lotproof.report.words.Numbers.text;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.claim.LevelClaim;
import lotproof.claim.evidence.Refusal;
import lotproof.claim.premise.Assumption;
import lotproof.claim.premise.Assumption.Drift;
import lotproof.claim.premise.Assumption.Effect;
import lotproof.claim.premise.Assumption.LotsAndDays;
import lotproof.claim.premise.Assumption.MatchedKits;
import lotproof.claim.premise.Assumption.NotNormal;
import lotproof.claim.premise.Assumption.PairingNotStated;
import lotproof.claim.premise.Assumption.PartnersGoTogether;
import lotproof.claim.premise.Assumption.RestsOnShape;
import lotproof.claim.premise.Assumption.RunsMissing;
import lotproof.claim.premise.Assumption.Support;
import lotproof.claim.premise.PlanCoverage;
import lotproof.model.ReferencePartners;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.DataIssue;
import lotproof.study.Study;

/** What a figure assumes, and why a study supports none, in sentences. */
public final class AssumptionWords {

  private AssumptionWords() {}

  /** How much was planned, measured, counted and is missing: {@code 120 runs planned, ...}. */
  public static String counts(PlanCoverage coverage) {
    StringBuilder words = new StringBuilder();
    if (coverage.plannedRuns().isPresent()) {
      words.append(runs(coverage.plannedRuns().getAsInt())).append(" planned, ");
      words.append(coverage.measuredRuns()).append(" measured, ");
    } else {
      words.append(runs(coverage.measuredRuns())).append(" measured, ");
    }
    words.append(coverage.countedRuns()).append(" counted, ");
    if (coverage.plannedRuns().isPresent()) {
      words.append(coverage.missingRunCount()).append(" missing");
    } else {
      words.append(missingUnits(coverage.missingUnits().size()));
    }
    return words.toString();
  }

  private static String missingUnits(int units) {
    return units == 0 ? "no unit missing" : counted(units, "unit") + " missing";
  }

  private static String runs(int count) {
    return counted(count, "run");
  }

  /** The sentence that a claim carries for a finding; empty where it needs none. */
  static Optional<String> condition(Assumption assumption, ClaimRequest request) {
    if (assumption instanceof PairingNotStated) {
      return Optional.of(
          "Valid only if cells and boards were paired by chance, not matched to each other.");
    }
    if (assumption instanceof MatchedKits) {
      return Optional.of("It does not hold for a cell with any other board.");
    }
    if (assumption instanceof RunsMissing missing) {
      return Optional.of(missing(missing, request.form()));
    }
    if (assumption instanceof RestsOnShape rests) {
      return Optional.of(
          text(
              "Valid only if %s; without that, %s.",
              rests.kits().isEmpty()
                  ? "lots spread in a normal shape"
                  : "the spread is normal in shape",
              supports(rests, request.subject())));
    }
    if (assumption instanceof LotsAndDays lots && lots.hiddenGrams().isPresent()) {
      return Optional.of(
          text(
              "Lots of %ss were measured at different times; a drift of the bench between them, as"
                  + " far as the check standard shows it, is included with %s g.",
              lots.kind().key(), digits(lots.hiddenGrams().getAsDouble(), 3)));
    }
    return Optional.empty();
  }

  /** What kits and lots support without a shape. */
  private static String supports(RestsOnShape rests, ClaimRequest.Subject subject) {
    List<String> parts = new ArrayList<>();
    rests
        .kits()
        .map(
            kits ->
                kits.count() == 0
                    ? "no tested " + subject.key() + " supports the figure"
                    : supported(independent(kits, subject), kits, subject)
                        + (rests.lots().isPresent() ? " of these lots" : ""))
        .ifPresent(parts::add);
    rests
        .lots()
        .map(lots -> supported(counted(lots.count(), "lot"), lots, subject) + " of any lot")
        .ifPresent(parts::add);
    return String.join(", and ", parts);
  }

  private static String supported(String what, Support support, ClaimRequest.Subject subject) {
    return text(
        "%s support %s %% of %s",
        what, Numbers.plain(Math.floor(1000 * support.contentFraction()) / 10), subject.plural());
  }

  private static String independent(Support kits, ClaimRequest.Subject subject) {
    return kits.count() + " independent " + (kits.count() == 1 ? subject.key() : subject.plural());
  }

  private static String missing(RunsMissing missing, ClaimForm form) {
    String what = missing.runs() > 0 ? runs(missing.runs()) : missingUnits(missing.units());
    OptionalDouble worst = missing.likeWorstGrams();
    return what
        + (missing.runs() == 1 ? " of the plan is" : " of the plan are")
        + " missing without a cause; "
        + (worst.isPresent()
            ? text(
                "if %s like the worst %s, the figure would be %s.",
                missing.runs() == 1 ? "it was" : "they were",
                missing.runs() == 1 ? "run" : "runs",
                form.words(worst.getAsDouble()))
            : "what they would have shown is not known.");
  }

  /** What a study has too little of to support a figure. */
  public static String shortage(Refusal refusal, ClaimRequest.Subject subject) {
    if (refusal instanceof Refusal.Assumed assumed) {
      Assumption assumption = assumed.assumption();
      return assumption instanceof NotNormal
          ? "Not enough " + subject.plural() + "."
          : assumption instanceof RunsMissing ? "Not enough runs." : "No.";
    }
    if (refusal instanceof Refusal.Plain plain) {
      return switch (plain.cause()) {
        case ONE_RUN, FEW_RUNS_ON_PARTNER, FEW_CHANGES_OF_TEMPERATURE -> "Not enough runs.";
        case NO_CALIBRATION_LOADS -> "Not enough loads.";
        default -> "No.";
      };
    }
    return refusal instanceof Refusal.NotJoined
        ? "Not enough units on the partners."
        : refusal instanceof Refusal.FarReadings ? "No." : "Not enough readings.";
  }

  /** Why a finding leaves no figure, with what would help. */
  static String refusal(Assumption assumption, PlanCoverage coverage, ClaimRequest request) {
    if (assumption instanceof NotNormal shape) {
      return refusal(shape, request);
    }
    if (assumption instanceof LotsAndDays lots) {
      return refusal(lots);
    }
    if (assumption instanceof RunsMissing missing) {
      return text(
          "Not enough of the plan was measured: %s; %s %% of the planned runs or units have neither"
              + " a reading nor a cause, and at most %s %% may. Measure what is missing (lotproof"
              + " status lists it), or decide on each unit with its cause (lotproof review).",
          counts(coverage),
          digits(100 * missing.shareFraction(), 3),
          percent(PlanCoverage.MOST_MISSING));
    }
    if (assumption instanceof PartnersGoTogether together) {
      return text(
          "Cells and boards do not look paired by chance: over %d kits the %s of cells and of their"
              + " first boards go together (correlation %.2f; chance alone gives so much in %.2g of"
              + " studies), so how any cell goes with any board is not known. If boards were"
              + " matched to their cells, write \"pairing: matched\" under design in study.yaml:"
              + " the claim is then for kits matched as in this study. Otherwise pair cells and"
              + " boards anew by chance (lotproof plan) and measure those pairs.",
          together.kits(),
          together.characteristic().title().toLowerCase(Locale.ROOT),
          together.correlation(),
          together.chance());
    }
    if (assumption instanceof MatchedKits) {
      return "Boards were matched to their cells, so how a unit alone goes with an average partner"
          + " is not known. Claim for kits (claim, for: kit), or measure units on one"
          + " reference partner.";
    }
    throw new IllegalArgumentException("no refusal: " + assumption);
  }

  private static String refusal(NotNormal shape, ClaimRequest request) {
    ClaimRequest.Subject subject = request.subject();
    String plural = subject.plural();
    Support kits = shape.kits();
    String asked = percent(request.content());
    return text(
        "Not enough %s for this content: the errors are not normal in shape (chance %s), and"
            + " %s. Find the cause (lotproof review, lotproof spread), or test %s independent"
            + " %s%s.",
        plural,
        digits(shape.chance(), 2),
        kits.count() == 0
            ? text(
                "no tested %s supports %s %% of %s without a shape", subject.key(), asked, plural)
            : text(
                "%s where %s %% are asked",
                supported(independent(kits, subject) + " alone", kits, subject), asked),
        shape.neededKits(),
        plural,
        kits.count() == 0
            ? ""
            : text(
                ", or claim for less (claim, content: %.2f)",
                Math.floor(100 * kits.contentFraction()) / 100));
  }

  private static String refusal(LotsAndDays lots) {
    String units = lots.kind().key() + "s";
    return text(
        "Lots and days cannot be told apart: %s%s %% of a difference between lots of %s, and %s. A"
            + " drift of the bench can hide how lots differ, or look like it. Measure again with"
            + " the lots of %s mixed over the sessions (lotproof plan makes such an order), with a"
            + " check standard in each.",
        lots.time() == LotsAndDays.Time.SESSIONS ? "sessions explain " : "run order explains ",
        digits(100 * lots.shareFraction(), 3),
        units,
        unbounded(lots.drift()),
        units);
  }

  private static String unbounded(Drift drift) {
    if (drift instanceof Drift.Bounded bounded) {
      return text(
          "by the check standard up to %s g of it may hide, more than a fifth of the figure",
          digits(bounded.grams(), 3));
    }
    if (drift instanceof Drift.UncheckedSession unchecked) {
      return "the check standard was not measured in session " + unchecked.session();
    }
    return drift instanceof Drift.FewCheckRuns few && few.runs() > 0
        ? text(
            "the check standard has %s, and %s are needed",
            counted(few.runs(), "usable run"), few.needed())
        : "no check standard was measured";
  }

  /** What a finding does, in a word or two. */
  public static String effect(Effect effect) {
    return switch (effect) {
      case SHOWN -> "shown";
      case CONDITION -> "condition of the claim";
      case RESTRICTION -> "claim restricted";
      case ALLOWANCE -> "added to the figure";
      case NO_FIGURE -> "no figure";
    };
  }

  /** A finding's name. */
  public static String title(Assumption assumption) {
    if (assumption instanceof PairingNotStated) {
      return "How cells and boards were paired is not stated";
    }
    if (assumption instanceof MatchedKits) {
      return "Boards were matched to their cells";
    }
    if (assumption instanceof PartnersGoTogether) {
      return "Cells and boards do not look paired by chance";
    }
    if (assumption instanceof RestsOnShape) {
      return "The figure rests on a normal shape of the spread";
    }
    if (assumption instanceof NotNormal) {
      return "The errors are not normal in shape";
    }
    return assumption instanceof RunsMissing
        ? "Runs of the plan are missing"
        : "Lots and days cannot be told apart";
  }

  /** Its numbers. */
  public static String evidence(Assumption assumption, ClaimRequest.Subject subject) {
    if (assumption instanceof RestsOnShape rests) {
      return "Without it, " + supports(rests, subject);
    }
    if (assumption instanceof NotNormal shape) {
      return notNormal(shape, subject);
    }
    if (assumption instanceof PairingNotStated not) {
      return text(
          "%s kits%s",
          not.kits(),
          not.testable() ? "" : "; each unit met one partner, so the data cannot show it");
    }
    if (assumption instanceof MatchedKits matched) {
      return matched.kits() + " matched kits";
    }
    if (assumption instanceof PartnersGoTogether together) {
      return text(
          "%s of %d first partners: correlation %.2f, chance %.2g",
          together.characteristic().title(),
          together.kits(),
          together.correlation(),
          together.chance());
    }
    if (assumption instanceof RunsMissing missing) {
      return text(
          "%s, %d units; %s %% of the plan",
          runs(missing.runs()), missing.units(), digits(100 * missing.shareFraction(), 3));
    }
    return evidence((LotsAndDays) assumption);
  }

  /** Its numbers. */
  public static String evidence(LotsAndDays lots) {
    return text(
        "%s lots: %s explain %s %%, chance %.2g%s",
        lots.kind().key(),
        lots.time().word(),
        digits(100 * lots.shareFraction(), 3),
        lots.chance(),
        lots.hiddenGrams().isPresent()
            ? "; hidden at most " + digits(lots.hiddenGrams().getAsDouble(), 3) + " g"
            : "");
  }

  /** What shows that errors are not normal, and what stands without a shape. */
  public static String notNormal(NotNormal shape, ClaimRequest.Subject subject) {
    return text(
        "Anderson-Darling %s at the worst load, chance %s; %s",
        digits(shape.andersonDarling(), 3),
        digits(shape.chance(), 2),
        shape.kits().count() == 0
            ? "no " + subject.key() + " was tested"
            : supported(independent(shape.kits(), subject), shape.kits(), subject)
                + " in any shape");
  }

  /** The reason, with what would help. */
  static String noFigure(Study study, LevelClaim claim, Refusal refusal) {
    if (refusal instanceof Refusal.Plain plain) {
      return plain(study, plain.cause());
    }
    if (refusal instanceof Refusal.FarReadings far) {
      return far(far.issues());
    }
    if (refusal instanceof Refusal.NoTemperature none) {
      return text(
          "Run %s has no temperature, so a temperature correction cannot be judged.", none.run());
    }
    if (refusal instanceof Refusal.SmallTemperatureRange small) {
      return text(
          "The bench saw %s K of temperature; a mean coefficient needs at least %s K between the"
              + " coldest and the warmest run.",
          digits(small.seenKelvin(), 2), Numbers.plain(small.neededKelvin()));
    }
    if (refusal instanceof Refusal.NotJoined not) {
      return not.referenceRuns() < ReferencePartners.FEWEST_REFERENCE_RUNS
          ? text(
              "The reference pair was measured %s; its own error enters every kit, so it has to be"
                  + " measured at least twice.",
              not.referenceRuns() == 0 ? "never" : "once")
          : "At least two cells on the reference board and two boards on the reference cell are"
              + " needed.";
    }
    return refusal instanceof Refusal.Assumed assumed
        ? refusal(assumed.assumption(), claim.coverage(), study.claim())
        : ((Refusal.NotEstimable) refusal).reason();
  }

  /** Why nothing can be fitted, naming the first of some readings. */
  static String far(List<DataIssue> readings) {
    String others =
        readings.size() == 1 ? "" : ", and " + (readings.size() - 1) + " more readings are like it";
    return text(
        "A reading is so far from all others that a fit would show nothing else: %s%s.",
        readings.get(0).sentence(), others);
  }

  private static String plain(Study study, Refusal.Cause cause) {
    String subject = study.claim().subject().key();
    return switch (cause) {
      case NO_CALIBRATION_LOADS -> "No run has the loads that this calibration needs.";
      case ONE_RUN ->
          "Only one run was measured; how " + subject + "s differ cannot be known from it.";
      case NO_MASS_LIMIT ->
          "OIML R 111 has no limit of error for the masses and classes that the study names, so"
              + " their error cannot be bounded.";
      case NO_ERROR -> "All errors are zero, which no measurement shows.";
      case FEW_RUNS_ON_PARTNER -> "Fewer than two runs were made on the reference partner.";
      case CELLS_AND_BOARDS_MIXED ->
          text(
              "A figure for a %s alone needs runs that tell cells from boards: a rotation, blocks,"
                  + " a full crossing, or one reference partner for all.",
              subject);
      case NO_PARTNERS_NAMED -> "The study does not name its reference partners.";
      case TEMPERATURE_OF_UNITS ->
          "The runs cannot tell temperature from the units, so a mean coefficient cannot be"
              + " estimated.";
      case FEW_CHANGES_OF_TEMPERATURE ->
          "After a calibration, a temperature correction is judged on pairs that were measured"
              + " again at a temperature 2 K away or more; the record has fewer than two such"
              + " runs, so it does not show what is left of a change between calibration and use.";
    };
  }
}
