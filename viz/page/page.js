"use strict";
// Loads the picture, says how far it is, and keeps the keyboard's way out of it.
(() => {
  const get = (id) => document.getElementById(id);
  const loading = get("loading"), words = get("words"), swap = get("swap");
  let canvas = null;

  // What the picture's side and the tests see of the page.
  const underdisc = {
    ready: false, // the first picture has been drawn
    ticks: 0,
    state: () => "",
    given: null, // what to start with: {name, text}
    times: {}, // ms since the page began: arrived, ready
    fail: trouble,
    store: () => window.localStorage, // throws where it is switched off
    began() {
      underdisc.times.ready = performance.now();
      underdisc.ready = true;
      loading.classList.add("gone");
    },
  };
  window.underdisc = underdisc;

  function trouble(text) {
    get("arriving").textContent = "The picture is not there.";
    get("share").hidden = true;
    let box = loading.querySelector(".trouble");
    if (!box) {
      box = document.createElement("p");
      box.className = "trouble";
      box.setAttribute("role", "alert");
      loading.append(box);
    }
    box.textContent = text;
    loading.classList.remove("gone");
    underdisc.ready = false;
  }

  // The libraries put a canvas and an input of their own at the end of the
  // body. The canvas moves to its place; the input is for touch screens, and
  // nothing to come upon by Tab.
  function adopt(node) {
    if (node instanceof HTMLCanvasElement) {
      canvas = node;
      const had = document.activeElement === canvas || document.activeElement === document.body;
      get("picture").prepend(canvas);
      canvas.tabIndex = 0;
      canvas.setAttribute("role", "application");
      canvas.setAttribute("aria-label", "The live picture of the valve");
      canvas.setAttribute("aria-describedby", "swap-about");
      if (had) canvas.focus({ preventScroll: true });
    } else if (node instanceof HTMLInputElement || node instanceof HTMLTextAreaElement) {
      node.tabIndex = -1;
      node.setAttribute("aria-hidden", "true");
    }
  }
  new MutationObserver((records) => records.forEach((r) => r.addedNodes.forEach(adopt)))
    .observe(document.body, { childList: true });

  function toWords() { words.focus(); }
  function toPicture() { if (canvas) canvas.focus(); }
  swap.addEventListener("click", toWords);

  // What belongs to the browser stays with it: to load again, to zoom, to find.
  const plain = ["F5", "F11", "F12"];
  const withControl = ["+", "-", "=", "0", "r", "t", "w", "n", "l", "f"];
  window.addEventListener("keydown", (e) => {
    if (e.key === "F6" && !e.ctrlKey && !e.metaKey && !e.altKey) {
      e.preventDefault();
      e.stopImmediatePropagation();
      if (canvas && document.activeElement === canvas) toWords();
      else toPicture();
    } else if (plain.includes(e.key) || ((e.ctrlKey || e.metaKey) && withControl.includes(e.key.toLowerCase()))) {
      e.stopImmediatePropagation();
    }
  }, true);

  // The picture is held against what the browser can do before it is fetched.
  function missing() {
    if (typeof WebAssembly !== "object" || !WebAssembly.instantiateStreaming) {
      return "This browser cannot run the picture: it has no WebAssembly, or it is switched off. Any current browser has it.";
    }
    const probe = document.createElement("canvas").getContext("webgl2");
    if (!probe) {
      return "This browser cannot draw the picture: it has no WebGL 2, or it is switched off. Any current browser has it; look for \"graphics acceleration\" in its settings.";
    }
    probe.getExtension("WEBGL_lose_context")?.loseContext();
    return "";
  }

  // counted shows how much of a response has arrived.
  function counted(response) {
    const whole = Number(response.headers.get("Underdisc-Unpacked-Size"));
    let have = 0;
    const meter = new TransformStream({
      transform(piece, on) {
        have += piece.byteLength;
        if (whole > 0) {
          get("share").value = Math.min(1, have / whole);
          get("arriving").textContent = `The picture is on its way: ${Math.round(100 * Math.min(1, have / whole))} %`;
        }
        on.enqueue(piece);
      },
      flush() {
        underdisc.times.arrived = performance.now();
        get("arriving").textContent = "The picture starts.";
      },
    });
    return new Response(response.body.pipeThrough(meter), { headers: { "Content-Type": "application/wasm" } });
  }

  async function fetched(name) {
    const response = await fetch(name);
    if (!response.ok) throw new Error(`${name}: the server answers ${response.status}`);
    return response;
  }

  async function start() {
    const lack = missing();
    if (lack) return trouble(lack);
    try {
      const go = new Go();
      const [code, text] = await Promise.all([
        fetched("underdisc.wasm").then((r) => WebAssembly.instantiateStreaming(counted(r), go.importObject)),
        fetched("scenario.yaml").then(async (r) => ({ name: r.headers.get("Underdisc-Name") || "scenario", text: await r.text() })),
      ]);
      underdisc.given = text;
      await go.run(code.instance);
      if (!loading.querySelector(".trouble")) trouble("The picture has stopped. Load the page again to go on: the log of the run is kept.");
    } catch (e) {
      trouble(`The picture did not start: ${e.message}.\nIs the program that serves this page still running? Then load the page again.`);
    }
  }
  start();
})();
