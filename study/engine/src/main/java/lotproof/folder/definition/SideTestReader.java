package lotproof.folder.definition;

import static lotproof.folder.text.UnitsOfMeasure.plain;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import lotproof.folder.text.UnitsOfMeasure.Unit;
import lotproof.study.DataIssue.Code;
import lotproof.study.Keyed;
import lotproof.study.SideTest;
import lotproof.study.SideTest.Effect;

/** The list {@code design.side-tests} of a study file. */
final class SideTestReader {
  private SideTestReader() {}

  static List<SideTest> sideTests(StudySection design, double capacity) {
    List<SideTest> tests = new ArrayList<>();
    if (!design.has("side-tests")) {
      return tests;
    }
    for (StudySection in : design.items("side-tests")) {
      Optional<Effect> effect = in.oneOf("effect", Keyed.of(Effect.values(), in.text("effect")));
      String prefix = in.text("runs");
      String covers = in.text("covers");
      List<Double> loads = in.quantities("loads", Unit.KILOGRAM);
      checkLoads(in, loads, capacity);
      for (SideTest above : tests) {
        if (effect.equals(Optional.of(above.effect()))) {
          in.reject("effect", Code.VALUE_INVALID, above.effect().key() + " stands twice");
        }
        boolean alike =
            prefix.startsWith(above.runPrefix()) || above.runPrefix().startsWith(prefix);
        if (!prefix.isEmpty() && alike) {
          String message =
              "runs that begin with \"" + prefix + "\" cannot be told from those with \"";
          in.reject("runs", Code.VALUE_INVALID, message + above.runPrefix() + "\"");
        }
      }
      if (!in.isComplete()) {
        design.incomplete();
      }
      in.whenComplete(() -> new SideTest(effect.orElseThrow(), prefix, loads, covers))
          .ifPresent(tests::add);
    }
    return tests;
  }

  private static void checkLoads(StudySection in, List<Double> loads, double capacity) {
    for (int i = 0; i < loads.size(); i++) {
      double load = loads.get(i);
      if (!(load >= 0 && load <= capacity)) {
        String range = "0 kg to the capacity of " + plain(capacity) + " kg";
        in.rejectItem(
            "loads", i, Code.OUT_OF_RANGE, "a load of " + plain(load) + " kg is outside " + range);
      }
    }
    if (loads.isEmpty()) {
      return;
    }
    if (loads.get(0) != 0) {
      in.rejectItem("loads", 0, Code.VALUE_INVALID, "a side test begins without load, at 0 kg");
    } else if (new HashSet<>(loads).size() == loads.size()) {
      in.reject(
          "loads",
          Code.VALUE_INVALID,
          "no load comes again, so there is nothing to compare; each step is compared with the"
              + " first one that has its load");
    }
  }
}
