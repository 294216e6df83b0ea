// Package gauging turns readings into an estimate, an estimate and a tolerance
// into a verdict, and a verdict into the sentence said at the bench.
//
// An estimate follows JCGM 100:2008 (the GUM): u² = s²/n + step²/12 + u²(tool),
// with effective degrees of freedom by Welch–Satterthwaite. A verdict is two
// things that are never blurred: the side, exact and by whole numbers, and
// whether it is sure, by the probability of conformity of JCGM 106:2012.
//
// A rule over several readings is judged by its margin: Propagate takes the
// readings' uncertainties through the formula, a tool's own error shared by all
// that was read with it, and JudgeRule says how sure the rule is and what would
// settle it. Where a formula is not straight, MonteCarlo counts instead
// (JCGM 101:2008).
//
// Everything here is a pure function. It imports quantity and tool.
package gauging
