/** What is said once for all functions of a part of the reference, in Markdown. */
export const PART_LEADS: Readonly<Record<string, string>> = {
  distributions: `For each law there are the lower tail (\`Cumulative\`), P(X ≤ x); the upper tail (\`UpperTail\`), P(X > x), computed for itself so that a small p-value is not lost in 1 − P; the logarithms of both, finite where the tail is below the smallest double; and the quantile of either tail.

| law | density or probability | tail by |
| --- | --- | --- |
| normal | exp(−z²/2)/√(2π) | series near the middle, continued fraction in the tail |
| gamma, of shape a and rate b | b^a x^(a−1) exp(−b x)/Γ(a) | P(a, bx), the incomplete gamma function |
| chi-square, on k degrees of freedom | gamma of shape k/2 and rate 1/2 | P(k/2, x/2) |
| Poisson, of mean m | exp(−m) m^k/k! | P(X ≤ k) = Q(k + 1, m) |
| beta, of shapes a and b | x^(a−1) (1 − x)^(b−1)/B(a, b) | I(x; a, b), the incomplete beta function |
| binomial, n trials of chance p | n!/(k! (n − k)!) p^k (1 − p)^(n−k) | P(X > k) = I(p; k + 1, n − k) |
| Student's t, on d degrees of freedom | (1 + t²/d)^(−(d+1)/2)/(√d B(1/2, d/2)) | I(d/(d + t²); d/2, 1/2)/2 |
| F, on d and e degrees of freedom | that of (X/d)/(Y/e), X and Y chi-square | I(d f/(d f + e); d/2, e/2) |
| hypergeometric, k marked among n drawn of N, K of them marked | C(K, k) C(N − K, n − k)/C(N, n) | sum outwards from the smaller tail |

Source of all: Abramowitz and Stegun, Handbook of Mathematical Functions (1964), chapters 6 and 26. [Validation](validation.md) says how many digits agree.`,
};
