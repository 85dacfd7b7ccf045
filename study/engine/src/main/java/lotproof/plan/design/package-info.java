/**
 * Which cell meets which board, how often and in what order.
 *
 * <p>A {@link lotproof.plan.design.Layout} says who meets whom by index; {@link
 * lotproof.plan.design.RunOrder} gives its runs their place on the bench.
 */
@NullMarked
package lotproof.plan.design;

import org.jspecify.annotations.NullMarked;
