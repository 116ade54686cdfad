// Package decide answers: given what is believed about a number not yet known,
// what is the cheapest thing to do, what does it cost on average, and what
// would it be worth to know more first?
//
// # Ordering under an uncertain need U
//
//   - [SolveNewsvendor]: cost c_u a unit short, c_o a unit over. Order q with
//     F(q) = c_u/(c_u+c_o). Arrow, Harris & Marschak 1951.
//   - [OrderCosts]: concrete by the truck, with an extra load of at least m
//     by increments δ when the order falls short. With S(q) = P(U>q) and
//     B(q) = m·S(q) + δ·Σ_{j≥0} S(q+m+jδ),
//     C(q) = (P+d)(q+B(q)) − d·E[U] + K·S(q) + c·B(q) + T(q). With δ, m → 0
//     the least cost has (P+d)F(q) = K·f(q) at c = 0, and F(q) = c/(c+P+d) at
//     K = 0. The parts are those of Silver, Pyke & Thomas 2017 ch. 9.
//   - [Ratio.Update], [OrderCosts.Second]: the same once part is placed, by
//     normal-normal updating. Raiffa & Schlaifer 1961.
//   - [SweepOrders]: expected shortage and leftover of many order sizes from
//     simulated needs, one histogram and its prefix sums.
//
// U is anything that is [Predictive]: [Normal], [Lognormal], [Student] or what
// the overage model predicts. Partial expectations E(U−q)⁺: normal s(φ−z(1−Φ)); Student
// s(f(z)(ν+z²)/(ν−1) − z(1−F)); lognormal e^{μ+σ²/2}Φ(σ−z) − q(1−Φ(z)).
//
// # Choosing between two
//
//   - [Steel]: is the dearer reinforcement paid for by fewer callbacks, also
//     if something unrecorded went with it? Lognormal partial expectations.
//   - [NormalChoice]: expected value of perfect and of sample information,
//     unit normal loss. Raiffa & Schlaifer 1961 §5.
//   - [ArmsValue]: the same for two proportions, beta-binomial, enumerated.
//   - [RateLess], [ProportionLess]: posterior probabilities of order.
//
// # Planning
//
//   - [SchoenfeldEvents], [DetectableRatio]: Schoenfeld 1983, Biometrics 39:499.
//   - [TwoProportions]: Fleiss, Levin & Paik 2003 ch. 4.
//
// # What it does not do
//
// It minimises expected money: no aversion to risk, no utility. The need does
// not depend on the order, and no order is carried over to another day. Beliefs
// come from elsewhere; a wrong belief gives a wrong answer without warning.
package decide
