/** Passes on what it is given, at most once in `everyMs`; what is overtaken before its turn is left out. */
export function throttleReport<T>(
  everyMs: number,
  passOn: (value: T) => void,
): { readonly report: (value: T) => void; readonly stop: () => void } {
  let next: { readonly value: T } | undefined;
  let timer: NodeJS.Timeout | undefined;
  const turn = () => {
    timer = undefined;
    if (next === undefined) return;
    const { value } = next;
    next = undefined;
    timer = setTimeout(turn, everyMs);
    passOn(value);
  };
  return {
    report(value) {
      next = { value };
      if (timer === undefined) turn();
    },
    stop() {
      next = undefined;
      clearTimeout(timer);
    },
  };
}
