package lotproof.report.assembly;

import static lotproof.report.model.Format.COUNT;
import static lotproof.report.model.Format.TEXT;
import static lotproof.report.model.Format.significant;
import static lotproof.report.words.Numbers.text;

import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import lotproof.claim.JigLimits;
import lotproof.claim.StudyResult;
import lotproof.report.model.Prose;
import lotproof.report.model.Quantity;
import lotproof.report.model.Section;
import lotproof.report.model.Table;
import lotproof.report.model.TableBuilder;
import lotproof.report.words.SubjectWords;
import lotproof.study.Study;

/** What the jig says of boards alone: gain, offset, noise and resolution. */
final class JigSection {
  private JigSection() {}

  /** The section; empty where the study has no such claim. */
  static Optional<Section> of(StudyResult result) {
    return result.asDecided().jig().map(jig -> section(result.study(), jig));
  }

  private static Section section(Study study, JigLimits jig) {
    return new Section(
        "jig",
        "What do boards do on the jig?",
        Prose.of(
            "{} boards on {}: limits that {} of boards keep, each by itself with {} confidence.",
            Quantity.count(jig.boards()),
            SubjectWords.partner(study),
            Quantity.percent(jig.content(), 1),
            Quantity.percent(jig.confidence(), 1)),
        List.of(table(jig)));
  }

  private static String title(JigLimits.Property property) {
    return switch (property) {
      case GAIN -> "Gain, from the factory default factor";
      case OFFSET -> "Offset";
      case NOISE -> "Noise of a sample, rms";
      case RESOLUTION -> "Noise-free resolution";
    };
  }

  private static String unit(JigLimits.Property property) {
    return switch (property) {
      case GAIN -> "%";
      case OFFSET -> "mV/V";
      case NOISE -> "g";
      case RESOLUTION -> "parts of the capacity";
    };
  }

  private static String kind(JigLimits.Kind kind) {
    return switch (kind) {
      case ABOUT_ZERO -> "within plus or minus";
      case AT_MOST -> "at most";
      case AT_LEAST -> "at least";
    };
  }

  private static String why(JigLimits.Missing missing) {
    return switch (missing) {
      case FEWER_THAN_TWO_RUNS -> "fewer than two runs show it";
      case NOT_FITTED -> "the runs cannot be fitted";
      case NO_NOISE -> "the noise is not above zero";
    };
  }

  private static Table table(JigLimits jig) {
    Function<JigLimits.Limit, String> none =
        limit -> limit.missing().map(JigSection::why).orElse("from the noise");
    String bits =
        jig.resolutionBits().isPresent()
            ? text(
                " Such a resolution is %s bits of the capacity.",
                jig.resolutionBits().getAsDouble())
            : "";
    return new TableBuilder<JigLimits.Limit>("jig-limits", "Limits of boards alone")
        .note(
            text(
                "The larger of model and largest tested value counts. Gain is slope over the"
                    + " factory default factor minus one; what the partner adds to it is in it."
                    + " Noise-free resolution is the capacity over 6.6 times the limit of the noise"
                    + " (the span that 99.9 %% of normal samples keep).%s",
                bits))
        .add("property", "Property", TEXT, l -> title(l.property()))
        .add("unit", "Unit", TEXT, l -> unit(l.property()))
        .add("kind", "Limit", TEXT, l -> kind(l.kind()))
        .add("limit", "Value", significant(4), l -> CellTexts.optional(l.value(), none.apply(l)))
        .add(
            "model",
            "By the model",
            significant(4),
            l -> CellTexts.optional(l.model(), none.apply(l)))
        .add(
            "tested",
            "Largest tested",
            significant(4),
            l -> CellTexts.optional(l.tested(), none.apply(l)))
        .add("runs", "Runs", COUNT, l -> l.runs())
        .of(jig.limits());
  }
}
