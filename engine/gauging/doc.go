// Package gauging turns readings into an estimate, an estimate and a tolerance
// into a verdict, and a verdict into the sentence said at the bench.
//
// An estimate follows JCGM 100:2008 (the GUM): u² = s²/n + step²/12 + u²(tool),
// with effective degrees of freedom by Welch–Satterthwaite. A verdict is two
// things that are never blurred: the side, exact and by whole numbers, and
// whether it is sure, by the probability of conformity of JCGM 106:2012.
//
// Everything here is a pure function. It imports quantity and tool.
package gauging
