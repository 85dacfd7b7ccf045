package lotproof.report.model;

import java.util.List;

/**
 * A sheet of a workbook: tables under one another, the one that may be long last, and charts at
 * their right.
 */
public record Sheet(String name, List<Table> tables, List<SheetChart> charts) {
  public Sheet {
    tables = List.copyOf(tables);
    charts = List.copyOf(charts);
  }

  /** A sheet without charts. */
  public static Sheet of(String name, Table... tables) {
    return new Sheet(name, List.of(tables), List.of());
  }
}
