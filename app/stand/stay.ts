import { useEffect } from "preact/hooks";

/**
 * The back gesture must not take the page away under a run. An entry of our own lies on the history; going back
 * takes only that, and it is laid anew. Browsers skip entries that no tap stands behind, so another is laid at the
 * next tap. Leaving is a button.
 */
export const useStay = (onBack: () => void): void => {
  useEffect(() => {
    let byTap = false;
    const here = location.href;
    const lay = () => history.pushState({ stay: true }, "", location.href);
    const tapped = () => {
      if (!byTap) lay();
      byTap = true;
    };
    const back = () => {
      // A link to another address says so too, before this page is gone: that is leaving, not going back.
      if (location.href !== here) return;
      byTap = false;
      lay();
      onBack();
    };
    addEventListener("pointerup", tapped);
    addEventListener("keyup", tapped);
    addEventListener("popstate", back);
    return () => {
      removeEventListener("pointerup", tapped);
      removeEventListener("keyup", tapped);
      removeEventListener("popstate", back);
    };
  }, []);
};
