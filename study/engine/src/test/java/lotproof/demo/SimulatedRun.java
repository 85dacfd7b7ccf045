package lotproof.demo;

/**
 * What one load run showed, step by step.
 *
 * @param outputCounts mean of the samples of each step
 * @param noiseCounts standard deviation of the samples of each step
 * @param cellCelsius true temperature of the cell at each step
 * @param boardCelsius true temperature of the board at each step
 */
@SuppressWarnings("ArrayRecordComponent") // made by the hundred thousand in a rehearsal
public record SimulatedRun(
    double[] outputCounts, double[] noiseCounts, double[] cellCelsius, double[] boardCelsius) {}
