package lotproof.claim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lotproof.claim.evidence.GuardBands;
import lotproof.claim.evidence.Refusal;
import lotproof.model.FactorPlan;
import lotproof.reduce.ReducedRun;
import lotproof.study.CalibrationLevel;
import lotproof.study.ClaimForm;
import lotproof.study.ClaimRequest;
import lotproof.study.Design;
import lotproof.study.MassClass;
import lotproof.study.UnitKind;
import org.junit.jupiter.api.Test;

/** Forms, subjects, lots and designs of a claim, on invented kits. */
class FigureFormsTest {
  private static final long SEED = 3;
  private static final int UNITS = 20;

  private final InventedKits kits = new InventedKits(SEED, 1, 0);
  private final List<InventedKits.Unit> cells = kits.units(UnitKind.CELL, UNITS);
  private final List<InventedKits.Unit> boards = kits.units(UnitKind.BOARD, UNITS);

  private List<ReducedRun> rotation(boolean warm, double perKelvin) {
    List<ReducedRun> runs = new ArrayList<>();
    for (int pass = 0; pass < 3; pass++) {
      for (int i = 0; i < UNITS; i++) {
        OptionalDouble celsius =
            warm ? OptionalDouble.of(19 + (i * 7 + pass * 3) % 7) : OptionalDouble.empty();
        // the third pass repeats the first
        InventedKits.Unit board = boards.get((i + pass % 2) % UNITS);
        runs.add(kits.run("r" + pass + "-" + i, cells.get(i), board, celsius, perKelvin));
      }
    }
    return runs;
  }

  private LevelClaim claim(ClaimRequest request, Design design, List<ReducedRun> runs) {
    return InventedKits.claims(
            InventedKits.study(
                kits.lotsOf(UnitKind.CELL, cells),
                kits.lotsOf(UnitKind.BOARD, boards),
                design,
                request,
                MassClass.F2),
            runs,
            true)
        .get(0);
  }

  private static ClaimRequest request(
      ClaimForm form, ClaimRequest.Subject subject, OptionalDouble ratio, OptionalDouble wanted) {
    return new ClaimRequest(
        0.95,
        0.95,
        1,
        form,
        subject,
        ratio,
        List.of(new ClaimRequest.LevelRequest(new CalibrationLevel.None(), wanted)));
  }

  private static Design design(Design.Kind kind) {
    return new Design(kind, InventedKits.LOADS, List.of());
  }

  private LevelOutcome.Figure figure(ClaimForm form, List<ReducedRun> runs) {
    ClaimRequest request =
        request(form, ClaimRequest.Subject.KIT, OptionalDouble.empty(), OptionalDouble.empty());
    return claim(request, design(Design.Kind.ROTATION), runs).figure().orElseThrow();
  }

  @Test
  void aSideIsNeverWiderThanBothAndOneOfThemReachesTheWorstKit() {
    List<ReducedRun> runs = rotation(false, 0);
    double both = figure(new ClaimForm.Symmetric(), runs).tested().largestGrams();
    double above =
        figure(new ClaimForm.OneSided(ClaimForm.Side.ABOVE), runs).tested().largestGrams();
    double below =
        figure(new ClaimForm.OneSided(ClaimForm.Side.BELOW), runs).tested().largestGrams();
    assertThat(Math.max(above, below)).isEqualTo(both);
  }

  @Test
  void aFigureOnOneSideSaysHowItHoldsUnderALightSkew() {
    List<ReducedRun> runs = rotation(false, 0);
    assertThat(figure(new ClaimForm.OneSided(ClaimForm.Side.ABOVE), runs).remarks())
        .contains(new LevelOutcome.Remark.OneSided());
    assertThat(figure(new ClaimForm.Symmetric(), runs).remarks())
        .doesNotContain(new LevelOutcome.Remark.OneSided());
  }

  @Test
  void aShareOfTheReadingThatIsNextToNothingIsPlusMinus() {
    List<ReducedRun> runs = rotation(false, 0);
    LevelOutcome.Figure plain = figure(new ClaimForm.Symmetric(), runs);
    LevelOutcome.Figure share = figure(new ClaimForm.OfReading(1e-12, 10), runs);
    assertThat(share.limitGrams()).isCloseTo(plain.limitGrams(), within(1e-4));
  }

  @Test
  void aShareOfTheReadingHoldsEveryTestedKit() {
    List<ReducedRun> runs = rotation(false, 0);
    ClaimForm form = new ClaimForm.OfReading(0.004, 10);
    ClaimRequest request =
        request(form, ClaimRequest.Subject.KIT, OptionalDouble.empty(), OptionalDouble.empty());
    LevelClaim claim = claim(request, design(Design.Kind.ROTATION), runs);
    double grams = claim.figure().orElseThrow().printableGrams();
    claim
        .curves()
        .forEach(
            curve ->
                curve
                    .points()
                    .forEach(
                        p ->
                            assertThat(Math.abs(p.errorGrams()))
                                .isLessThanOrEqualTo(grams * form.weight(p.loadKilograms()))));
  }

  @Test
  void anAssumedRatioWidensTheModelAndSaysSo() {
    List<ReducedRun> runs = rotation(false, 0);
    ClaimRequest plain =
        request(
            new ClaimForm.Symmetric(),
            ClaimRequest.Subject.KIT,
            OptionalDouble.empty(),
            OptionalDouble.empty());
    ClaimRequest assumed =
        request(
            new ClaimForm.Symmetric(),
            ClaimRequest.Subject.KIT,
            OptionalDouble.of(1),
            OptionalDouble.empty());
    Design rotation = design(Design.Kind.ROTATION);
    LevelClaim with = claim(assumed, rotation, runs);
    double without = claim(plain, rotation, runs).figure().orElseThrow().modelGrams();
    assertThat(with.figure().orElseThrow().modelGrams()).isGreaterThan(1.3 * without);
    assertThat(with.figure().orElseThrow().withinTheseLotsGrams()).isPresent();
  }

  @Test
  void aUnitAloneNeedsRunsThatTellCellsFromBoards() {
    List<ReducedRun> pairs = rotation(false, 0).subList(0, UNITS);
    ClaimRequest request =
        request(
            new ClaimForm.Symmetric(),
            ClaimRequest.Subject.CELL,
            OptionalDouble.empty(),
            OptionalDouble.empty());
    LevelClaim claim = claim(request, design(Design.Kind.DISJOINT_PAIRS), pairs);
    assertThat(claim.figure()).isEmpty();
    assertThat(claim.outcome())
        .isEqualTo(refused(new Refusal.Plain(Refusal.Cause.CELLS_AND_BOARDS_MIXED)));
  }

  @Test
  void aTemperatureCorrectionNeedsTemperatureAndHasAGuardBand() {
    ClaimRequest request =
        new ClaimRequest(
            0.95,
            0.95,
            1,
            new ClaimForm.Symmetric(),
            ClaimRequest.Subject.KIT,
            OptionalDouble.empty(),
            List.of(
                new ClaimRequest.LevelRequest(
                    new CalibrationLevel.None(),
                    OptionalDouble.empty(),
                    Optional.of(new ClaimRequest.TemperatureCorrection(0.5)))));
    Design rotation = design(Design.Kind.ROTATION);
    assertThat(claim(request, rotation, rotation(false, 0)).outcome())
        .isInstanceOfSatisfying(
            LevelOutcome.NoFigure.class,
            none -> assertThat(none.why()).isInstanceOf(Refusal.NoTemperature.class));
    LevelOutcome.Figure figure =
        claim(request, rotation, rotation(true, 2e-4)).figure().orElseThrow();
    // the thermometer alone: 2e-4 of 50 kg at half a kelvin
    assertThat(figure.guards().of(GuardBands.Kind.TEMPERATURE_CORRECTION)).isBetween(5.0, 10.0);
  }

  /** Level one-point with a correction, from pairs of which some were measured again, warmer. */
  private LevelClaim corrected(int again, double kelvin, double perKelvin) {
    List<ReducedRun> runs = new ArrayList<>();
    for (int i = 0; i < UNITS; i++) {
      OptionalDouble cool = OptionalDouble.of(19.5 + i % 4);
      runs.add(kits.run("r" + i, cells.get(i), boards.get(i), cool, perKelvin));
      runs.add(kits.run("s" + i, cells.get(i), boards.get((i + 1) % UNITS), cool, perKelvin));
      if (i < again) {
        OptionalDouble warm = OptionalDouble.of(cool.getAsDouble() + kelvin);
        runs.add(kits.run("t" + i, cells.get(i), boards.get(i), warm, perKelvin));
      }
    }
    ClaimRequest request =
        new ClaimRequest(
            0.95,
            0.95,
            1,
            new ClaimForm.Symmetric(),
            ClaimRequest.Subject.KIT,
            OptionalDouble.empty(),
            List.of(
                new ClaimRequest.LevelRequest(
                    new CalibrationLevel.Calibrated(List.of(20.0), MassClass.M1),
                    OptionalDouble.empty(),
                    Optional.of(new ClaimRequest.TemperatureCorrection(0.5)))));
    return claim(request, design(Design.Kind.ROTATION), runs);
  }

  @Test
  void afterACalibrationACorrectionIsJudgedOnPairsMeasuredAgainWarmer() {
    LevelClaim claim = corrected(8, 5, 3e-4);
    LevelOutcome.Figure figure = claim.figure().orElseThrow();
    assertThat(figure.guards().changeKelvin().orElseThrow()).isCloseTo(5, within(1e-9));
    assertThat(figure.tested().kits()).isEqualTo(8);
    // one kelvin of the thermometer over the change: 3e-4 of 50 kg, and what is not known of k
    assertThat(figure.guards().of(GuardBands.Kind.TEMPERATURE_CORRECTION)).isBetween(15.0, 25.0);
    // uncorrected, 5 K would be 75 g at 50 kg
    assertThat(figure.tested().largestGrams()).isLessThan(30);
    // the run is not read with its own calibration, so the calibration load has an error too
    assertThat(figure.points()).anyMatch(p -> p.loadKilograms() == 20 && p.largestGrams() > 0);
  }

  @Test
  void afterACalibrationACorrectionNeedsAChangeOfTemperature() {
    LevelOutcome none = refused(new Refusal.Plain(Refusal.Cause.FEW_CHANGES_OF_TEMPERATURE));
    assertThat(corrected(8, 1.5, 3e-4).outcome()).isEqualTo(none);
    assertThat(corrected(0, 5, 3e-4).outcome()).isEqualTo(none);
  }

  /**
   * Gain is what the invented boards have, 0.12 % around nothing, on a jig without a cell of its
   * own.
   */
  @Test
  void boardsOnAJigHaveLimitsOfGainAndOffset() {
    InventedKits.Unit bridge = new InventedKits.Unit("rc", 0, 0, 0);
    List<ReducedRun> runs = new ArrayList<>();
    boards.forEach(b -> runs.add(kits.run("b" + b.serial(), bridge, b)));
    double largest =
        runs.stream()
            .mapToDouble(r -> Math.abs(r.slopeCountsPerKilogram() / 80_000 - 1))
            .max()
            .orElseThrow();
    Design jig =
        new Design(
            Design.Kind.REFERENCE_PARTNER,
            InventedKits.LOADS,
            List.of(),
            Optional.of(new Design.ReferencePartners("rc", "rb", true)),
            List.of(),
            Design.Pairing.NOT_STATED);
    ClaimRequest request =
        request(
            new ClaimForm.Symmetric(),
            ClaimRequest.Subject.BOARD,
            OptionalDouble.empty(),
            OptionalDouble.empty());
    LevelClaim claim = claim(request, jig, runs);
    assertThat(claim.figure().orElseThrow().remarks())
        .noneMatch(
            r ->
                r instanceof LevelOutcome.Remark.LeftOut out
                    && out.note().kind() == FactorPlan.Kind.ONE_UNIT);
    JigLimits limits =
        JigLimits.of(
                InventedKits.study(
                    kits.lotsOf(UnitKind.CELL, cells),
                    kits.lotsOf(UnitKind.BOARD, boards),
                    jig,
                    request,
                    MassClass.F2),
                runs)
            .orElseThrow();
    assertThat(limits.boards()).isEqualTo(UNITS);
    JigLimits.Limit gain = limits.of(JigLimits.Property.GAIN).orElseThrow();
    assertThat(gain.tested().orElseThrow()).isCloseTo(100 * largest, within(1e-9));
    assertThat(gain.value().orElseThrow()).isBetween(100 * largest - 1e-9, 100 * 0.0012 * 3.5);
    assertThat(limits.of(JigLimits.Property.OFFSET)).isPresent();
    // the invented runs have no noise, so nothing is said of it
    assertThat(limits.of(JigLimits.Property.NOISE)).isEmpty();
    assertThat(limits.of(JigLimits.Property.RESOLUTION)).isEmpty();
    assertThat(limits.limits()).filteredOn(l -> l.missing().isPresent()).hasSize(2);
  }

  @Test
  void kitsFromReferencePartnersNeedTheReferencePair() {
    Design reference =
        new Design(
            Design.Kind.REFERENCE_PARTNER,
            InventedKits.LOADS,
            List.of(),
            Optional.of(new Design.ReferencePartners("rc", "rb", true)),
            List.of(),
            Design.Pairing.NOT_STATED);
    InventedKits.Unit cell = new InventedKits.Unit("rc", 0, 0, 0);
    InventedKits.Unit board = new InventedKits.Unit("rb", 0.001, 0, 0);
    List<ReducedRun> runs = new ArrayList<>();
    cells.forEach(c -> runs.add(kits.run("c" + c.serial(), c, board)));
    boards.forEach(b -> runs.add(kits.run("b" + b.serial(), cell, b)));
    ClaimRequest request =
        request(
            new ClaimForm.Symmetric(),
            ClaimRequest.Subject.KIT,
            OptionalDouble.empty(),
            OptionalDouble.empty());
    assertThat(claim(request, reference, runs).outcome())
        .isInstanceOfSatisfying(
            LevelOutcome.NoFigure.class,
            none -> assertThat(none.why()).isEqualTo(new Refusal.NotJoined(0)));
    for (int i = 0; i < 4; i++) {
      runs.add(kits.run("x" + i, cell, board));
    }
    LevelOutcome.Figure figure = claim(request, reference, runs).figure().orElseThrow();
    assertThat(figure.guards().of(GuardBands.Kind.REFERENCE)).isPositive();
    assertThat(figure.remarks()).contains(new LevelOutcome.Remark.VirtualKits(5, 400));
  }

  @Test
  void remediesStayWithWhatLimitsTheFigure() {
    List<ReducedRun> runs = rotation(false, 0);
    LevelOutcome.Figure figure = figure(new ClaimForm.Symmetric(), runs);
    for (double share : new double[] {0.3, 0.6, 0.8, 0.9, 0.95, 0.99}) {
      double wanted = share * figure.limitGrams();
      ClaimRequest request =
          request(
              new ClaimForm.Symmetric(),
              ClaimRequest.Subject.KIT,
              OptionalDouble.empty(),
              OptionalDouble.of(wanted));
      LevelClaim.Verdict verdict =
          claim(request, design(Design.Kind.ROTATION), runs).wanted().orElseThrow();
      assertThat(verdict.supported()).isFalse();
      boolean modelLimits = figure.modelGrams() > wanted - figure.guards().totalGrams();
      List<Double> shares = verdict.remedies().stream().flatMap(r -> share(r).stream()).toList();
      assertThat(shares.isEmpty()).isEqualTo(!modelLimits);
      assertThat(shares).allMatch(s -> s < 1);
    }
  }

  /** The share that a spread has to come down to. */
  private static Optional<Double> share(Remedy remedy) {
    if (remedy instanceof Remedy.LessSpread less) {
      return Optional.of(less.share());
    }
    return remedy instanceof Remedy.LessOfAllSpreads all
        ? Optional.of(all.share())
        : Optional.empty();
  }

  private static LevelOutcome refused(Refusal why) {
    return new LevelOutcome.NoFigure(why);
  }
}
