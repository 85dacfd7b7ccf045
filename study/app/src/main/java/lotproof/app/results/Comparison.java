package lotproof.app.results;

import static lotproof.app.cli.CliCommand.refuse;
import static lotproof.report.model.Format.TEXT;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Predicate;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import lotproof.claim.LevelClaim;
import lotproof.claim.StudyResult;
import lotproof.claim.WhatIf;
import lotproof.folder.StudyContents;
import lotproof.folder.text.Nearest;
import lotproof.report.model.Level;
import lotproof.report.model.Table;
import lotproof.report.model.TableBuilder;
import lotproof.report.words.Numbers;
import lotproof.review.DecidedRuns;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.Decision;
import lotproof.study.Study;
import lotproof.study.UnitKind;
import lotproof.study.Units;
import lotproof.work.Parallel;

/**
 * What the study would claim if it were asked or decided otherwise, side by side.
 *
 * @param terms in the words that were given
 */
record Comparison(List<String> terms, List<WhatIf> questions) {
  private static final Pattern CHANGE =
      Pattern.compile(
          "(content|confidence|without|with|lots?)[\\s=:]+(.+)", Pattern.CASE_INSENSITIVE);
  private static final String AND = "(?i)\\s+and\\s+";
  private static final String FORMS =
      "\"content 99 %\", \"confidence 90 %\", \"without SERIAL\", \"with SERIAL\" or"
          + " \"lots NAME, NAME\"; several are joined with \"and\"";

  /** What the study would claim on other terms. */
  public record Alternative(String terms, List<LevelClaim> claims) {
    Alternative withoutCurves() {
      return new Alternative(terms, claims.stream().map(LevelClaim::withoutCurves).toList());
    }
  }

  /** Reads the terms; ends the command where one cannot be read. */
  static Comparison of(StudyContents contents, Study study, List<String> terms) {
    TermReader reader = new TermReader(contents, study);
    return new Comparison(
        terms.stream().map(String::strip).toList(), terms.stream().map(reader::question).toList());
  }

  /** The claims on each of these terms. */
  List<Alternative> alternatives() {
    List<List<LevelClaim>> claims = Parallel.map(questions, WhatIf::claims);
    return IntStream.range(0, terms.size())
        .mapToObj(i -> new Alternative(terms.get(i), claims.get(i)))
        .toList();
  }

  /** A row for each of them, below what the study claims as it is. */
  static Table table(StudyResult result, List<Level> levels, List<Alternative> alternatives) {
    TableBuilder<Alternative> table =
        new TableBuilder<Alternative>("What if").add("Terms", TEXT, Alternative::terms);
    ClaimRequest asked = result.study().claim();
    for (int i = 0; i < levels.size(); i++) {
      int at = i;
      table.add(levels.get(i).name(), TEXT, row -> cell(row.claims().get(at)));
    }
    return table
        .note(
            "As recorded, a figure holds for {} % of {}, with {} % confidence. Yes or no says"
                + " whether the wanted figure is supported. Nothing of this is written.",
            Numbers.percent(asked.content()),
            asked.subject().plural(),
            Numbers.percent(asked.confidence()))
        .of(
            Stream.concat(
                    Stream.of(new Alternative("as recorded", result.asDecided().claims())),
                    alternatives.stream())
                .toList());
  }

  private static String cell(LevelClaim claim) {
    ClaimForm form = claim.form();
    String figure = claim.figure().map(f -> form.words(f.printableGrams())).orElse("no figure");
    return figure + claim.wanted().map(wanted -> wanted.supported() ? ", yes" : ", no").orElse("");
  }

  /** Reads terms of a study. */
  private record TermReader(StudyContents contents, Study study) {
    WhatIf question(String terms) {
      WhatIf question = new WhatIf(study, contents.readings(), contents.decisions());
      for (String term : terms.strip().split(AND, -1)) {
        Matcher change = CHANGE.matcher(term.strip());
        refuse(!change.matches(), "--compare: \"%s\" is none of %s", term.strip(), FORMS);
        question =
            changed(question, change.group(1).toLowerCase(Locale.ROOT), change.group(2).strip());
      }
      return question;
    }

    private WhatIf changed(WhatIf question, String what, String value) {
      ClaimRequest asked = question.study().claim();
      return switch (what) {
        case "content" -> question.asking(share(what, value), asked.confidence());
        case "confidence" -> question.asking(asked.content(), share(what, value));
        case "without" -> question.without(kindOf(value), value);
        case "with" -> {
          kindOf(value);
          Predicate<Decision> leavesOut =
              decision ->
                  decision.serial().equals(value)
                      && (decision.action() == Decision.Action.EXCLUDED
                          || decision.action() == Decision.Action.SCREENED);
          refuse(
              DecidedRuns.inForce(contents.decisions()).stream().noneMatch(leavesOut),
              "--compare: no decision leaves %s out",
              value);
          yield question.with(value);
        }
        default -> question.ofLots(lots(value));
      };
    }

    private static double share(String what, String value) {
      Optional<Double> share = Optional.empty();
      String number = value.replace("%", "").strip().replace(',', '.');
      if (number.matches("[0-9]{1,3}(\\.[0-9]{1,9})?")) {
        double read = Double.parseDouble(number);
        share = Optional.of(read < 1 ? read : read / 100);
      }
      refuse(
          share.isEmpty() || share.get() < 0.5 || share.get() >= 1,
          "--compare: %s \"%s\" is no share from 50 to below 100 %%, such as 99 %%",
          what,
          value);
      return share.orElseThrow();
    }

    private UnitKind kindOf(String serial) {
      List<String> known =
          Arrays.stream(UnitKind.values()).flatMap(kind -> study.serials(kind).stream()).toList();
      refuse(
          !known.contains(serial),
          "--compare: the study has no unit %s; %s",
          serial,
          Nearest.to(serial, known)
              .map(near -> "did you mean \"" + near + "\"?")
              .orElse("lotproof status --details lists its units"));
      return study.serials(UnitKind.CELL).contains(serial) ? UnitKind.CELL : UnitKind.BOARD;
    }

    private List<String> lots(String value) {
      List<String> names = List.of(value.split("\\s*[,;+]\\s*|\\s+"));
      List<String> known =
          Arrays.stream(UnitKind.values())
              .flatMap(kind -> study.units().lots(kind).stream().map(Units.Lot::name))
              .distinct()
              .toList();
      for (String name : names) {
        refuse(
            !known.contains(name),
            "--compare: the study has no lot %s; %s",
            name,
            Nearest.hint(name, known, "its lots"));
      }
      return names;
    }
  }
}
