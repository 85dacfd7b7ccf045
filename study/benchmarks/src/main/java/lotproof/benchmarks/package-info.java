/**
 * How long the statistics take. Build with {@code mvn -Pbenchmarks package}, run with {@code java
 * -cp 'study/benchmarks/target/benchmarks.jar:study/benchmarks/target/lib/*' org.openjdk.jmh.Main}.
 */
@NullMarked
package lotproof.benchmarks;

import org.jspecify.annotations.NullMarked;
