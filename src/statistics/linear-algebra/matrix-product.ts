/** The product of two matrices given as arrays of rows. */
export function matrixProduct(a: readonly ArrayLike<number>[], b: readonly ArrayLike<number>[]): number[][] {
  const width = b[0]?.length ?? 0;
  return a.map(row => {
    const product = Array.from({ length: width }, () => 0);
    for (const [k, other] of b.entries()) {
      const factor = row[k] as number;
      for (let j = 0; j < width; j++) product[j] = (product[j] as number) + factor * (other[j] as number);
    }
    return product;
  });
}

/** The rows of a matrix as its columns. */
export function transposed(a: readonly ArrayLike<number>[]): number[][] {
  return Array.from({ length: a[0]?.length ?? 0 }, (_, j) => a.map(row => row[j] as number));
}
