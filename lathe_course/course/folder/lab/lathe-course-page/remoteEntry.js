// What a page of the course needs of the browser.  An extension of JupyterLab written by hand, without a build step:
// its container is an object with init() and get().  Without it every chapter works as before.
(() => {
  const NAME = 'lathe-course-page';

  // --- the handle of a slider bears the words that stand above it, and a button that is a sign alone says what it does ------------------------------
  const SIGNS = {'fa-play': 'start', 'fa-pause': 'pause', 'fa-stop': 'stop, and back to the beginning', 'fa-retweet': 'again and again'};
  const call = (element, words) => { if (words && element.getAttribute('aria-label') !== words) element.setAttribute('aria-label', words); };
  const name = () => {
    for (const handle of document.querySelectorAll('.widget-slider .noUi-handle')) {
      call(handle, handle.closest('.widget-slider').querySelector('.widget-label')?.textContent.trim());
    }
    for (const sign of document.querySelectorAll('.widget-play .jupyter-button > i')) {
      call(sign.parentElement, Object.entries(SIGNS).find(([one]) => sign.classList.contains(one))?.[1]);
    }
  };
  let waiting = false;
  const nameSoon = () => {
    if (waiting) return;
    waiting = true;
    requestAnimationFrame(() => { waiting = false; name(); });
  };

  const plugin = {id: `${NAME}:names`, autoStart: true, activate: () => {
    new MutationObserver(nameSoon).observe(document.body, {subtree: true, childList: true, characterData: true});
  }};

  (window._JUPYTERLAB ??= {})[NAME] = {
    init: () => {},
    get: async () => () => ({__esModule: true, default: plugin}),
  };
})();
