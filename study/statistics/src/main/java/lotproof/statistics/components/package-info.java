/**
 * How much of the variation of a value comes from each kind of unit: variance components of
 * crossed, nested and unbalanced studies, their intervals, the predicted effect of each unit, and
 * limits for a unit that nobody has measured yet.
 *
 * <p>Model: value = mean + sum of one random effect per {@link
 * lotproof.statistics.components.RandomFactor} + residual; effects are independent and normal with
 * one variance per factor.
 */
@NullMarked
package lotproof.statistics.components;

import org.jspecify.annotations.NullMarked;
