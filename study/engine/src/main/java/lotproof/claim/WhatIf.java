package lotproof.claim;

import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lotproof.reduce.LoadRun;
import lotproof.review.DecidedRuns;
import lotproof.study.ClaimRequest;
import lotproof.study.Decision;
import lotproof.study.Design;
import lotproof.study.Reading;
import lotproof.study.Study;
import lotproof.study.UnitKind;
import lotproof.study.Units;

/**
 * The same study asked or decided otherwise. Nothing of it is written: it says what a claim would
 * be.
 *
 * @param readings those of its units
 * @param decisions those that would hold
 */
public record WhatIf(Study study, List<Reading> readings, List<Decision> decisions) {
  public WhatIf {
    readings = List.copyOf(readings);
    decisions = List.copyOf(decisions);
  }

  /** With another content and confidence, both between 0 and 1. */
  public WhatIf asking(double content, double confidence) {
    ClaimRequest claim = study.claim().withShares(content, confidence);
    return new WhatIf(study.withClaim(claim), readings, decisions);
  }

  /** With a unit taken out, as if a person had decided so. */
  public WhatIf without(UnitKind kind, String serial) {
    List<Decision> more = new ArrayList<>(decisions);
    more.add(
        new Decision(
            "what if " + decisions.size(),
            "",
            "",
            Decision.Action.EXCLUDED,
            kind == UnitKind.CELL ? Decision.Target.CELL : Decision.Target.BOARD,
            serial,
            Optional.empty(),
            Optional.empty(),
            "what if",
            "",
            0));
    return new WhatIf(study, readings, more);
  }

  /** With a unit put back that a decision takes out. */
  public WhatIf with(String serial) {
    return new WhatIf(
        study,
        readings,
        decisions.stream().filter(decision -> !decision.serial().equals(serial)).toList());
  }

  /**
   * With these lots alone, as if no others had been planned. Lots of a kind of which none is named
   * all stay, with the units that still have a partner.
   */
  public WhatIf ofLots(Collection<String> names) {
    Set<String> cells = kept(UnitKind.CELL, names);
    Set<String> boards = kept(UnitKind.BOARD, names);
    List<LoadRun> corrected =
        DecidedRuns.corrected(LoadRun.groupedFrom(readings, study), decisions);
    List<LoadRun> left =
        corrected.stream()
            .filter(
                run ->
                    study.units().isCheckStandard(run.cell(), run.board())
                        || (cells.contains(run.cell()) && boards.contains(run.board())))
            .toList();
    Set<String> runs = left.stream().map(LoadRun::name).collect(Collectors.toSet());
    List<Design.PlannedPair> pairs =
        study.design().pairs().stream()
            .filter(pair -> cells.contains(pair.cell()) && boards.contains(pair.board()))
            .toList();
    Set<String> met =
        Stream.concat(
                left.stream().flatMap(run -> Stream.of(run.cell(), run.board())),
                pairs.stream().flatMap(pair -> Stream.of(pair.cell(), pair.board())))
            .collect(Collectors.toSet());
    Units units =
        new Units(
            lots(UnitKind.CELL, met::contains),
            lots(UnitKind.BOARD, met::contains),
            study.units().checkStandard());
    return new WhatIf(
        study.withUnits(units).withDesign(study.design().withPairs(pairs)),
        readings.stream().filter(reading -> runs.contains(reading.run())).toList(),
        decisions);
  }

  /** What the study would claim, at each calibration level in study order. */
  public List<LevelClaim> claims() {
    return new StudyAnalysis(study).claims(readings, decisions);
  }

  private Set<String> kept(UnitKind kind, Collection<String> names) {
    List<Units.Lot> lots = study.units().lots(kind);
    boolean all = lots.stream().noneMatch(lot -> names.contains(lot.name()));
    return lots.stream()
        .filter(lot -> all || names.contains(lot.name()) || isReference(lot))
        .flatMap(lot -> lot.serials().stream())
        .collect(Collectors.toSet());
  }

  private boolean isReference(Units.Lot lot) {
    return study
        .design()
        .reference()
        .filter(
            partners ->
                lot.serials().contains(partners.cell()) || lot.serials().contains(partners.board()))
        .isPresent();
  }

  private List<Units.Lot> lots(UnitKind kind, Predicate<String> left) {
    return study.units().lots(kind).stream()
        .map(lot -> new Units.Lot(kind, lot.name(), lot.serials().stream().filter(left).toList()))
        .filter(lot -> !lot.serials().isEmpty())
        .toList();
  }
}
