import { type RefObject, useLayoutEffect, useRef, useState } from 'react';

/** The width of an element in CSS pixels as it changes; 0 until it is laid out. */
export function useWidth<E extends Element>(): readonly [RefObject<E | null>, number] {
  const ref = useRef<E>(null);
  const [width, setWidth] = useState(0);
  useLayoutEffect(() => {
    const element = ref.current;
    if (element === null) return;
    const measure = () => setWidth(Math.floor(element.getBoundingClientRect().width));
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    measure();
    return () => observer.disconnect();
  }, []);
  return [ref, width];
}
