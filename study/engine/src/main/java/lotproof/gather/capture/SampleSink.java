package lotproof.gather.capture;

/** Takes the samples of a capture in the order of the file. */
@FunctionalInterface
interface SampleSink {
  /**
   * Takes one sample.
   *
   * @param line line of the file, counted from 1
   * @param seconds time since the first sample's clock zero, unwrapped; 0 without a clock
   * @param value the sample
   */
  void sample(long line, double seconds, double value);
}
