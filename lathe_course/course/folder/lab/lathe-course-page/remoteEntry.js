// What a page of the course needs of the browser: a chapter shows itself when it is opened, rests when others are
// read, its sliders bear names, and a word of the trade opens what it means.
//
// An extension of JupyterLab written by hand, without a build step: its container is an object with init() and get().
// What it uses of JupyterLab are modules of the same version, found at run time; where one is missing or behaves in
// another way, Run All Cells still works and the page says so.
//
// Only cells run by themselves whose text the course wrote (the page's configuration holds their hashes): a notebook
// that somebody handed on runs nothing else by being opened.
(() => {
  const NAME = 'lathe-course-page';
  const COURSE = /^(.*\/)?(notebooks|exercises)\/[^/]+\.ipynb$/;
  const ALIVE = 3;                                    // pages with a kernel: the one in sight and two more
  const RUNS_A_MINUTE = 3;                            // a cell may end its kernel each time
  const MODELS = 'application/vnd.jupyter.widget-view+json';
  const BY_READER = 'This page begins with code that the course did not write, so nothing of it runs by itself. Read before you run: menu Run, Run All Cells.';
  const SPARED = 'This page rests, as you left it, to spare memory.';
  const ENDED = 'This page rests: its kernel has ended, as it does when the same page is closed in another window.';
  const BY_HAND = 'This page does not run by itself here. Menu Run, Run All Cells shows it.';

  let shared;
  const here = document.currentScript?.src ?? '';
  const lab = async name => {                         // a module of JupyterLab's own
    const versions = Object.values(shared?.[name] ?? {});
    if (!versions.length) throw new Error(`JupyterLab has no ${name}`);
    return (await versions[0].get())();
  };
  const rest = milliseconds => new Promise(done => setTimeout(done, milliseconds));

  // --- the handle of a slider bears the words that stand above it, and a button that is a sign alone says what it does ---
  const SIGNS = {'fa-play': 'start', 'fa-pause': 'pause', 'fa-stop': 'stop, and back to the beginning', 'fa-retweet': 'again and again'};
  const call = (element, words) => { if (words && element.getAttribute('aria-label') !== words) element.setAttribute('aria-label', words); };
  const name = () => {
    for (const handle of document.querySelectorAll('.widget-slider .noUi-handle')) {
      call(handle, handle.closest('.widget-slider').querySelector('.widget-label')?.textContent.trim());
    }
    for (const sign of document.querySelectorAll('.widget-play .jupyter-button > i')) {
      call(sign.parentElement, Object.entries(SIGNS).find(([one]) => sign.classList.contains(one))?.[1]);
    }
    for (const bar of document.querySelectorAll('.jp-InputPlaceholder .jp-Placeholder-content')) {
      if (bar.getAttribute('role') !== 'button') Object.assign(bar, {role: 'button', tabIndex: 0});
      call(bar, 'code of this part, folded: open');
    }
  };
  const open = event => {                             // folded code opens by a key as well
    if (!['Enter', ' '].includes(event.key) || !event.target.matches?.('.jp-InputPlaceholder .jp-Placeholder-content')) return;
    event.preventDefault();
    event.stopPropagation();
    event.target.click();
  };
  let waiting = false;
  const nameSoon = () => {
    if (waiting) return;
    waiting = true;
    requestAnimationFrame(() => { waiting = false; name(); });
  };

  // --- a word of the trade is marked where it is first met, once in the prose of a page and once in what it shows; the mark opens its meaning ---
  const WORDS = (() => {
    try {
      const given = JSON.parse(JSON.parse(document.getElementById('jupyter-config-data').textContent).latheCourseWords);
      const names = Object.keys(given.forms).map(form => form.replace(/[.*+?^${}()|[\]\\]/g, '\\$&'));      // the longest first
      return {...given, met: new RegExp(`(?<![\\w-])(?:${names.join('|')})(?![\\w-])`, 'gi'),
        apart: [...given.apart, 'option', 'textarea', '.lc-head', '.lathe-course-term', '[role=button]', 'mjx-container', '[aria-hidden=true]', 'details:not([open])', '.cm-editor'].join()};
    } catch (problem) { console.error(NAME, problem); return null; }
  })();
  const MARKED = ['.jp-MarkdownCell .jp-RenderedMarkdown', '.jp-CodeCell .jp-OutputArea-output'];
  const mark = () => {
    for (const panel of document.querySelectorAll('.jp-NotebookPanel:not(.lm-mod-hidden)')) {
      for (const where of MARKED) {
        const marked = new Set([null, ...[...panel.querySelectorAll(`${where} .lathe-course-term`)].map(term => term.dataset.word)]);
        for (const place of panel.querySelectorAll(where)) markIn(place, marked);
      }
    }
  };
  const markIn = (place, marked) => {
    const texts = document.createTreeWalker(place, NodeFilter.SHOW_TEXT, {acceptNode: node =>
      node.data.trim() && !node.parentElement.closest(WORDS.apart) ? NodeFilter.FILTER_ACCEPT : NodeFilter.FILTER_REJECT});
    for (let text = texts.nextNode(); text; ) {
      WORDS.met.lastIndex = 0;
      let met;
      while ((met = WORDS.met.exec(text.data)) && marked.has(WORDS.forms[met[0].toLowerCase()] ?? null)) ;
      if (!met) { text = texts.nextNode(); continue; }
      const term = document.createElement('span'), rest = text.splitText(met.index);
      Object.assign(term, {className: 'lathe-course-term', tabIndex: 0});
      term.dataset.word = WORDS.forms[met[0].toLowerCase()];
      term.setAttribute('role', 'button');
      term.setAttribute('aria-expanded', 'false');
      term.setAttribute('aria-description', 'a word of the trade; opens what it means');
      marked.add(term.dataset.word);
      text = rest.splitText(met[0].length);
      rest.replaceWith(term);
      term.append(rest);
      texts.currentNode = text;
      if (!text.data.trim()) text = texts.nextNode();
    }
  };
  let marking = 0;
  const markSoon = () => {                            // once a page has come to rest, for a slider writes it many times
    if (!WORDS) return;
    clearTimeout(marking);
    marking = setTimeout(mark, 300);
  };

  const meaning = Object.assign(document.createElement('div'), {className: 'lathe-course-meaning', id: 'lathe-course-meaning'});
  meaning.setAttribute('role', 'status');
  let explained = null;                               // the word that stands open
  const shut = () => {
    explained?.setAttribute('aria-expanded', 'false');
    explained = null;
    meaning.replaceChildren();
  };
  const explain = term => {
    const again = term === explained;
    shut();
    if (again) return;
    explained = term;
    term.setAttribute('aria-expanded', 'true');
    const word = document.createElement('b');
    word.textContent = term.dataset.word;
    meaning.append(word, ': ', WORDS.meaning[term.dataset.word]);
    meaning.style.fontSize = getComputedStyle(term).fontSize;
    beside();
  };
  const beside = () => {                              // below the word, or above it at the foot of the window; it goes along when the page is moved
    const at = explained?.getClientRects()[0], room = document.documentElement;
    if (!at) return shut();
    meaning.style.left = `${Math.max(8, Math.min(at.left, room.clientWidth - meaning.offsetWidth - 8))}px`;
    meaning.style.top = `${at.bottom + meaning.offsetHeight + 8 > room.clientHeight ? at.top - meaning.offsetHeight - 4 : at.bottom + 4}px`;
  };
  const termOf = event => event.target.closest?.('.lathe-course-term');
  const press = event => {
    const term = termOf(event);
    if (term) explain(term);
    else if (explained && !meaning.contains(event.target)) shut();
  };
  const key = event => {
    if (event.key === 'Escape' && explained) { shut(); event.stopPropagation(); }
    if (!['Enter', ' '].includes(event.key) || !termOf(event)) return;
    event.preventDefault();
    event.stopPropagation();
    explain(termOf(event));
  };

  // --- one open page ------------------------------------------------------------------------------
  class Page {
    constructor(panel, all) {
      Object.assign(this, {panel, all, notebook: panel.content, session: panel.sessionContext, seen: 0, typed: false, scheduled: 0, begun: []});
      this.word = document.createElement('div');
      this.word.className = 'lathe-course-word';
      this.word.setAttribute('role', 'status');
      this.word.hidden = true;
      panel.node.append(this.word);
      this.state('unread');
      // The kernel of a page that nobody has looked at yet is not started; the one in sight starts its own as usual.
      const inSight = new Promise(done => {
        const watch = new IntersectionObserver(entries => {
          if (entries.some(entry => entry.isIntersecting)) { watch.disconnect(); done(); }
        });
        watch.observe(panel.node);
      });
      const start = this.session.initialize.bind(this.session);
      this.session.initialize = async () => { await inSight; return start(); };
    }

    state(now) { this.panel.node.dataset.latheCourse = this.now = now; }

    say(text, press) {
      this.word.replaceChildren(text);
      if (press) {
        const button = document.createElement('button');
        button.textContent = press;
        button.onclick = () => this.wake();
        this.word.append(' ', button);
      }
      this.word.hidden = !text;
    }

    cells() { return this.notebook.widgets.filter(cell => cell.model.type === 'code' && cell.model.sharedModel.getSource().trim()); }
    get alive() { return Boolean(this.session.session?.kernel); }

    // --- opening
    async open() {
      await this.panel.context.ready;
      await this.session.ready;
      await this.panel.revealed;
      if (this.panel.isDisposed || this.now !== 'unread') return;
      this._listen();
      this.seen = Date.now();
      if (await this.answers() && await this.lives()) this.shown();
      else await this.run();
      this.all.settle();
    }

    _listen() {
      this.session.statusChanged.connect((_, status) => {
        if (status === 'restarting' || status === 'autorestarting') this.again();
      });
      this.session.sessionChanged.connect((_, {newValue}) => { if (!newValue && this.now === 'ready') this.still(ENDED); });
      // What is half written would be lost with its kernel.
      const node = this.notebook.node;
      node.addEventListener('input', event => { if (event.target.closest('.jp-OutputArea') && event.target.matches('input, textarea')) this.typed = true; });
      node.addEventListener('click', event => {
        if (this.now === 'resting') this.wake();
        else if (event.target.closest('.jupyter-button')) this.typed = false;
      });
      node.addEventListener('keydown', event => { if (event.key === 'Enter' && event.target.matches('.jp-OutputArea input')) this.typed = false; });
    }

    // Whether the kernel begins to answer.  It goes when the same page is closed in another window, and never says so.
    async answers() {
      const kernel = this.session.session?.kernel;
      if (!kernel || kernel.isDisposed) return false;
      return Promise.race([kernel.info.then(() => true), new Promise(done => kernel.disposed.connect(() => done(false)))]);
    }

    // Does what is shown live in this kernel?  The kernel is asked, for a saved page may speak of an earlier one.
    async lives() {
      const shown = this.cells().flatMap(cell => cell.outputArea.model.toJSON()).map(output => output.data?.[MODELS]?.model_id).filter(Boolean);
      if (!shown.length) return false;
      const future = this.session.session.kernel.requestExecute({code: '', silent: true, store_history: false, stop_on_error: false,
        user_expressions: {live: `set(${JSON.stringify(shown)}) <= set(__import__('ipywidgets').widgets.widget._instances)`}});
      const reply = await future.done.catch(() => null);        // the kernel went
      return reply?.content.user_expressions?.live?.data?.['text/plain'] === 'True';
    }

    // --- running
    async run() {
      if (this.running || this.panel.isDisposed) return;
      const minute = Date.now() - 60000;
      this.begun = this.begun.filter(time => time > minute);
      if (this.begun.length >= RUNS_A_MINUTE) {
        this.state('stopped');
        this.say('This page ends its kernel each time it runs. Menu Run, Run All Cells tries again.');
        return;
      }
      this.begun.push(Date.now());
      this.running = true;
      this.state('running');
      try {
        const all = this.cells(), mine = [];
        for (const cell of all) if (await this.all.knows(cell)) mine.push(cell);
        if (!mine.length || mine[0] !== all[0]) {     // all the others rest on the cell that opens the page
          this.state('unknown');
          this.say(all.length ? BY_READER : '');
          return;
        }
        this.say('Getting this page ready …');
        const place = this._place();
        for (const cell of mine) {
          cell.outputArea.node.style.minHeight = `${cell.outputArea.node.offsetHeight}px`;     // what stands below does not jump
          cell.outputArea.model.clear();
        }
        if (!this.alive) await this.session.changeKernel({name: this.session.kernelPreference.name || 'python3'});
        if (await this.answers()) await this.all.NotebookActions.runCells(this.notebook, mine, this.session);
        for (const cell of mine) cell.outputArea.node.style.minHeight = '';
        this._back(place);
        this.typed = false;
        if (this.alive) this.shown(all.length - mine.length);
        else this.still(ENDED);
      } catch (problem) {
        console.error(NAME, problem);
        this.state('stopped');
        this.say(BY_HAND);
      } finally {
        for (const cell of this.cells()) cell.outputArea.node.style.minHeight = '';
        this.running = false;
      }
    }

    shown(left = 0) {
      this.state('ready');
      this.say(left ? this._left(left) : '');
    }

    _left(count) {
      const [were, are] = count === 1 ? ['One cell of this page was', 'is'] : [`${count} cells of this page were`, 'are'];
      return `${were} not written by the course, and ${are} left alone. Read before you run: menu Run, Run All Cells.`;
    }

    // Which cell is read, and how far from the top of the page: kept where cells change their height.
    _place() {
      const box = this.notebook.node.querySelector('.jp-WindowedPanel-outer') ?? this.notebook.node;
      const top = box.getBoundingClientRect().top;
      const cell = this.notebook.widgets.find(one => one.node.getBoundingClientRect().bottom > top + 1);
      return {box, cell, off: cell ? cell.node.getBoundingClientRect().top - top : 0, moved: box.scrollTop > 0};
    }
    _back({box, cell, off, moved}) {
      if (!moved) box.scrollTop = 0;
      else if (cell) box.scrollTop += cell.node.getBoundingClientRect().top - box.getBoundingClientRect().top - off;
    }

    // After a restart: what stood there is dead.  Whoever has asked for cells to be run meanwhile is left to it.
    async again() {
      if (this.now === 'resting' || this.now === 'unread' || this.running) return;
      const scheduled = this.scheduled;
      await rest(500);
      for (let tries = 0; tries < 600 && !this.panel.isDisposed && !['idle', 'busy'].includes(this.session.session?.kernel?.status); tries++) await rest(100);
      if (this.panel.isDisposed || this.running || this.scheduled !== scheduled || !this.alive) return;
      if (!await this.lives()) await this.run();
    }

    // --- resting
    async restNow() {
      this.still(SPARED);
      await this.session.shutdown();
    }

    still(why) {
      this.state('resting');
      for (const cell of this.cells()) cell.outputArea.node.inert = true;
      this.say(why, 'Wake it');
    }

    async wake() {
      if (this.waking || this.now !== 'resting') return;
      this.waking = true;
      this.seen = Date.now();
      for (const cell of this.cells()) cell.outputArea.node.inert = false;
      try { await this.run(); } finally { this.waking = false; }
      this.all.settle();
    }

    get mayRest() { return this.now === 'ready' && !this.panel.isVisible && !this.typed && this.session.session.kernel.status !== 'busy'; }
  }

  // --- all pages ----------------------------------------------------------------------------------
  class Pages {
    constructor(app, NotebookActions, course) {
      Object.assign(this, {NotebookActions, course: new Set(course), open: new Map()});
      app.docRegistry.addWidgetExtension('Notebook', {createNew: panel => this.add(panel)});
      app.shell.currentChanged?.connect((_, {newValue}) => {
        const page = this.open.get(newValue);
        if (page) page.seen = Date.now();
        this.settle();
      });
      NotebookActions.executionScheduled.connect((_, {notebook}) => { const page = this.of(notebook); if (page) page.scheduled += 1; });
      NotebookActions.executed.connect((_, {notebook}) => {
        const page = this.of(notebook);
        if (page && !page.running && ['unknown', 'stopped'].includes(page.now)) page.shown();
      });
    }
    of(notebook) { return [...this.open.values()].find(page => page.notebook === notebook); }
    add(panel) {
      if (!COURSE.test(panel.context.path)) return;
      const page = new Page(panel, this);
      this.open.set(panel, page);
      panel.disposed.connect(() => this.open.delete(panel));
      page.open().catch(problem => { console.error(NAME, problem); page.state('stopped'); page.say(BY_HAND); });
    }
    async knows(cell) {
      const digest = await crypto.subtle.digest('SHA-256', new TextEncoder().encode(cell.model.sharedModel.getSource()));
      return this.course.has([...new Uint8Array(digest)].slice(0, 16).map(byte => byte.toString(16).padStart(2, '0')).join(''));
    }
    // The pages looked at last stay alive; the others rest, but for those that are at work or hold what is half written.
    settle() {
      const alive = [...this.open.values()].filter(page => page.alive).sort((one, other) => other.panel.isVisible - one.panel.isVisible || other.seen - one.seen);
      for (const page of alive.slice(ALIVE)) if (page.mayRest) page.restNow().catch(problem => console.error(NAME, problem));
    }
  }

  const sayToAll = text => {
    const word = document.createElement('div');
    word.className = 'lathe-course-word';
    word.style.position = 'fixed';
    word.setAttribute('role', 'status');
    const close = document.createElement('button');
    close.textContent = 'Close';
    close.onclick = () => word.remove();
    word.append(text + ' ', close);
    document.body.append(word);
  };

  const plugin = {id: `${NAME}:plugin`, autoStart: true, activate: async app => {
    const link = document.createElement('link');
    link.rel = 'stylesheet';
    link.href = new URL('page.css', here).href;
    document.head.append(link);
    document.addEventListener('keydown', open, true);
    document.addEventListener('keydown', key, true);
    document.addEventListener('click', press, true);
    document.addEventListener('scroll', () => { if (explained) beside(); }, true);
    document.body.append(meaning);
    new MutationObserver(() => { nameSoon(); markSoon(); }).observe(document.body, {subtree: true, childList: true, characterData: true});
  }};
  const running = async () => {
    const [{NotebookActions}, {PageConfig}] = await Promise.all(['@jupyterlab/notebook', '@jupyterlab/coreutils'].map(lab));
    if (![NotebookActions.runCells, NotebookActions.executed, NotebookActions.executionScheduled, globalThis.crypto?.subtle].every(Boolean)) throw new Error('JupyterLab runs cells in another way');
    return {id: `${NAME}:running`, autoStart: true, activate: app => {
      try {
        new Pages(app, NotebookActions, JSON.parse(PageConfig.getOption('latheCourseCells') || '[]'));
      } catch (problem) { console.error(NAME, problem); sayToAll(BY_HAND); }
    }};
  };

  (window._JUPYTERLAB ??= {})[NAME] = {
    init: scope => { shared = scope; },
    get: async () => {
      const plugins = [plugin];
      try { plugins.push(await running()); } catch (problem) { console.error(NAME, problem); sayToAll(BY_HAND); }
      return () => ({__esModule: true, default: plugins});
    },
  };
})();
