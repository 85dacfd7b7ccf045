package lotproof.statistics.gauge;

import java.util.Arrays;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import lotproof.statistics.Checks;
import lotproof.statistics.summary.Summary;

/** The readings of a crossed and balanced study with their cell, row, column and grand means. */
final class GaugeTable {
  private final List<String> parts;
  private final List<String> operators;
  private final double[][][] cells;

  private GaugeTable(List<String> parts, List<String> operators, double[][][] cells) {
    this.parts = parts;
    this.operators = operators;
    this.cells = cells;
  }

  static GaugeTable of(Collection<GaugeReading> readings) {
    Set<String> partNames = new LinkedHashSet<>();
    Set<String> operatorNames = new LinkedHashSet<>();
    Map<List<String>, double[]> groups = new LinkedHashMap<>();
    for (GaugeReading reading : readings) {
      partNames.add(reading.part());
      operatorNames.add(reading.operator());
      groups.merge(
          List.of(reading.part(), reading.operator()),
          new double[] {reading.value()},
          GaugeTable::joined);
    }
    List<String> parts = List.copyOf(partNames);
    List<String> operators = List.copyOf(operatorNames);
    Checks.atLeast(parts.size(), 2, "number of parts");
    Checks.atLeast(operators.size(), 2, "number of operators");
    int repeats = groups.values().iterator().next().length;
    Checks.atLeast(repeats, 2, "number of repeats");
    double[][][] cells = new double[parts.size()][operators.size()][];
    for (int i = 0; i < parts.size(); i++) {
      for (int j = 0; j < operators.size(); j++) {
        double[] cell = groups.get(List.of(parts.get(i), operators.get(j)));
        if (cell == null || cell.length != repeats) {
          throw new IllegalArgumentException(
              "readings must be balanced: part "
                  + parts.get(i)
                  + " by operator "
                  + operators.get(j)
                  + " has "
                  + (cell == null ? 0 : cell.length)
                  + " readings, not "
                  + repeats);
        }
        cells[i][j] = cell;
      }
    }
    return new GaugeTable(parts, operators, cells);
  }

  private static double[] joined(double[] first, double[] second) {
    double[] joined = Arrays.copyOf(first, first.length + second.length);
    System.arraycopy(second, 0, joined, first.length, second.length);
    return joined;
  }

  int parts() {
    return parts.size();
  }

  int operators() {
    return operators.size();
  }

  int repeats() {
    return cells[0][0].length;
  }

  int size() {
    return parts() * operators() * repeats();
  }

  double[] cell(int part, int operator) {
    return cells[part][operator];
  }

  double cellMean(int part, int operator) {
    return Summary.mean(cells[part][operator]);
  }

  double partMean(int part) {
    double sum = 0;
    for (int j = 0; j < operators(); j++) {
      sum += cellMean(part, j);
    }
    return sum / operators();
  }

  double operatorMean(int operator) {
    double sum = 0;
    for (int i = 0; i < parts(); i++) {
      sum += cellMean(i, operator);
    }
    return sum / parts();
  }

  double grandMean() {
    double sum = 0;
    for (int i = 0; i < parts(); i++) {
      sum += partMean(i);
    }
    return sum / parts();
  }
}
