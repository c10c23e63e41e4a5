#pragma once
/// A stand whose last leg swings through below what the others stand on.
#include <string>

namespace dryfit::test {

/// The rail comes out of a tee 2-3/4 in above the feet. On the left it is met by a leg with an arm to the front: the
/// arm is about 7 in long, and turns with the leg about the rail. The union in front keeps the arm from going on
/// afterwards.
inline const std::string kRingOnFourFeet = R"(dryfit: 1
units: in
pipe: {standard: npt, size: 3/4}
surfaces:
  floor: {normal: up, at: 0}
runs:
  a: {from: floor, at: [0, 0], parts: [F1: foot, P1: {pipe: 4}, T1: {side-tee: right, side: back}, Q1: {pipe: 18}, K1: cap]}
  b: {from: T1.right, parts: [R1: {pipe: 18}], to: T2.left}
  c: {from: floor, parts: [F2: foot, P2: {pipe: 4}, T2: {side-tee: left, side: back}, Q2: {pipe: 18}, K2: cap]}
  d: {from: T2.back, parts: [R2: {pipe: 6}, V: union, R2b: {pipe: 6}], to: T3.front}
  e: {from: floor, parts: [F3: foot, P3: {pipe: 4}, T3: {side-tee: left, side: front}, Q3: {pipe: 18}, K3: cap]}
  f: {from: T3.left, parts: [R3: {pipe: 18}], to: T4.right}
  g: {from: floor, parts: [F4: foot, P4: {pipe: 4}, T4: {side-tee: right, side: front}, Q4: {pipe: 18}, K4: cap]}
  h: {from: T4.front, parts: [R4: {pipe: 6}, U: union, R5: {pipe: 6}], to: T1.back}
)";

}  // namespace dryfit::test
