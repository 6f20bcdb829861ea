// Ticks are kept on this device under the plan's own key; without storage they last as long as the page.
(function () {
  "use strict";
  var body = document.body;
  var key = "kilnstow-ticks-" + body.getAttribute("data-plan");
  var steps = Array.prototype.slice.call(document.querySelectorAll("ol.steps li"));
  var said = document.querySelector(".bar output");
  var kept = {};
  var storing = true;
  var past = [];

  try {
    kept = JSON.parse(window.localStorage.getItem(key) || "{}") || {};
  } catch (refused) {
    storing = false;
  }

  function save() {
    try {
      window.localStorage.setItem(key, JSON.stringify(kept));
    } catch (refused) {
      storing = false;
    }
  }

  function marks(step) {
    var level = step.getAttribute("data-level");
    var piece = step.getAttribute("data-piece");
    var figure = level === null ? null : document.getElementById(level);
    return figure === null || piece === null ? []
      : Array.prototype.slice.call(figure.querySelectorAll(".n" + piece));
  }

  function shown(step, done, now) {
    step.querySelector("input").checked = done;
    step.classList.toggle("done", done);
    step.classList.toggle("now", now);
    marks(step).forEach(function (mark) {
      mark.classList.toggle("gone", done);
      mark.classList.toggle("here", now);
    });
  }

  function next() {
    return steps.find(function (step) { return !kept[step.id]; });
  }

  function named(step) {
    var number = step.querySelector(".no");
    return (number ? number.textContent + "  " : "") + step.querySelector(".say").textContent;
  }

  function refresh() {
    var now = next();
    steps.forEach(function (step) { shown(step, Boolean(kept[step.id]), step === now); });
    var words = now ? body.getAttribute("data-next") + " " + named(now) : body.getAttribute("data-all");
    said.textContent = storing ? words : words + " " + body.getAttribute("data-lost");
    return now;
  }

  function set(step, done) {
    if (done) {
      kept[step.id] = 1;
      past.push(step);
    } else {
      delete kept[step.id];
    }
    save();
    refresh();
  }

  steps.forEach(function (step) {
    step.querySelector("input").addEventListener("change", function (event) {
      set(step, event.target.checked);
    });
  });
  document.querySelector("button.next").addEventListener("click", function () {
    var now = next();
    if (now) {
      set(now, true);
    }
    var then = next();
    if (then) {
      then.scrollIntoView({ block: "center" });
    }
  });
  document.querySelector("button.back").addEventListener("click", function () {
    var last = past.pop();
    if (last) {
      set(last, false);
      last.scrollIntoView({ block: "center" });
    }
  });
  body.classList.add("ready");
  refresh();
}());
