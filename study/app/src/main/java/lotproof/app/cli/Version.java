package lotproof.app.cli;

import picocli.CommandLine.IVersionProvider;

/** Version of the jar. */
public final class Version implements IVersionProvider {
  public static String number() {
    String version = Version.class.getPackage().getImplementationVersion();
    return version == null ? "development" : version;
  }

  @Override
  public String[] getVersion() {
    return new String[] {"lotproof " + number()};
  }
}
