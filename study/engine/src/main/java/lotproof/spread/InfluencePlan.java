package lotproof.spread;

import java.util.ArrayList;
import java.util.List;
import lotproof.statistics.Interval;
import lotproof.statistics.components.ComponentsFit;
import lotproof.statistics.components.FixedColumn;
import lotproof.statistics.components.FixedEffectIntervals;

/**
 * The known influences of some values as columns of the model: a covariate is one column, a block
 * one 0/1 column for each stretch after the first.
 *
 * @param columns columns of the model
 * @param names the influence of each column
 * @param per for what the change of each column is
 * @param notes why an influence is not in the model, in words
 */
record InfluencePlan(
    List<FixedColumn> columns, List<String> names, List<String> per, List<String> notes) {
  InfluencePlan {
    columns = List.copyOf(columns);
    names = List.copyOf(names);
    per = List.copyOf(per);
    notes = List.copyOf(notes);
  }

  static InfluencePlan of(MeasuredValues values) {
    InfluencePlan plan = new InfluencePlan(List.of(), List.of(), List.of(), List.of());
    for (KnownInfluence influence : values.influences()) {
      plan = plan.with(influence);
    }
    return plan;
  }

  private InfluencePlan with(KnownInfluence influence) {
    List<FixedColumn> moreColumns = new ArrayList<>(columns);
    List<String> moreNames = new ArrayList<>(names);
    List<String> morePer = new ArrayList<>(per);
    List<String> moreNotes = new ArrayList<>(notes);
    if (influence instanceof KnownInfluence.Covariate covariate) {
      double[] column = covariate.values().stream().mapToDouble(v -> v).toArray();
      if (covariate.values().stream().distinct().count() < 2) {
        moreNotes.add(notVaried(covariate.name()));
      } else {
        moreColumns.add(new FixedColumn(covariate.name(), column));
        moreNames.add(covariate.name());
        morePer.add(covariate.unit().isEmpty() ? "for 1 more" : "for 1 " + covariate.unit());
      }
    } else if (influence instanceof KnownInfluence.Block block) {
      List<String> levels = block.labels().stream().distinct().sorted().toList();
      if (levels.size() < 2) {
        moreNotes.add(notVaried(block.name()));
      }
      for (String level : levels.subList(Math.min(1, levels.size()), levels.size())) {
        double[] column =
            block.labels().stream().mapToDouble(l -> l.equals(level) ? 1 : 0).toArray();
        moreColumns.add(new FixedColumn(block.name() + " " + level, column));
        moreNames.add(block.name());
        morePer.add(level + " against " + levels.get(0));
      }
    } else if (influence instanceof KnownInfluence.NotRecorded missing) {
      moreNotes.add(missing.reason());
    }
    return new InfluencePlan(moreColumns, moreNames, morePer, moreNotes);
  }

  private static String notVaried(String name) {
    return "The " + name + " was the same in all runs, so its influence was not estimated.";
  }

  List<InfluenceEffect> effects(ComponentsFit fit, double confidence) {
    List<InfluenceEffect> effects = new ArrayList<>();
    List<FixedEffectIntervals.Estimate> estimates =
        columns.isEmpty() ? List.of() : FixedEffectIntervals.of(fit, confidence);
    for (int c = 0; c < estimates.size(); c++) {
      FixedEffectIntervals.Estimate e = estimates.get(c);
      Interval interval = e.interval();
      effects.add(
          new InfluenceEffect(
              names.get(c),
              per.get(c),
              e.effect().estimate(),
              e.effect().standardError(),
              e.degreesOfFreedom(),
              interval,
              !interval.contains(0)));
    }
    return effects;
  }
}
