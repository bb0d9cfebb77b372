import { useEffect } from "preact/hooks";

/**
 * The back gesture must not take the page away under a run. One entry of our own lies on the history;
 * going back only takes that, and it is laid anew. Browsers skip entries that no tap stands behind, so it is
 * laid at a tap. Leaving is a button.
 */
export const useStay = (onBack: () => void): void => {
  useEffect(() => {
    let laid = false;
    const lay = () => {
      if (laid) return;
      laid = true;
      history.pushState({ stay: true }, "", location.href);
    };
    const back = () => {
      laid = false;
      onBack();
    };
    addEventListener("pointerup", lay);
    addEventListener("keyup", lay);
    addEventListener("popstate", back);
    return () => {
      removeEventListener("pointerup", lay);
      removeEventListener("keyup", lay);
      removeEventListener("popstate", back);
    };
  }, []);
};
