package lotproof.app;

/** Entry point of the command line. */
public final class Main {
  private Main() {}

  public static void main(String[] args) {
    System.exit(0);
  }
}
