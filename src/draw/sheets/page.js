// Ticks are kept on this device under the plan's own key; without storage they last as long as the page.
(function () {
  "use strict";
  var body = document.body;
  var key = "kilnstow-ticks-" + body.getAttribute("data-plan");
  var plan = body.getAttribute("data-plan").slice(0, 8);
  var steps = all(document, "ol.steps li");
  var loads = all(document, "section.load");
  var said = document.querySelector(".bar output");
  var kept = {};
  var storing = true;
  var past = [];

  function all(within, selector) {
    return Array.prototype.slice.call(within.querySelectorAll(selector));
  }

  function words(name) {
    return body.getAttribute("data-" + name);
  }

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

  // The second tap of a double tap does nothing.
  function on(element, act) {
    var last = -Infinity;
    if (element === null) {
      return;
    }
    element.addEventListener("click", function (event) {
      if (event.timeStamp - last < 500) {
        event.preventDefault();
        return;
      }
      last = event.timeStamp;
      act(event);
    });
  }

  function marks(step) {
    var level = step.getAttribute("data-level");
    var piece = step.getAttribute("data-piece");
    var figure = level === null ? null : document.getElementById(level);
    return figure === null || piece === null ? [] : all(figure, ".n" + piece);
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

  // What is in, exceptions only: "1545269b 1: all; 2: not 1.3 2left.5-8 2left.C1".

  function piecesOf(load) {
    return all(load, "li[data-level-name]").map(function (step) {
      return { step: step, level: step.getAttribute("data-level-name"), mark: step.querySelector(".no").textContent };
    });
  }

  function follows(a, b) {
    return a.level === b.level && /^\d+$/.test(a.mark) && Number(b.mark) === Number(a.mark) + 1;
  }

  function listed(pieces) {
    var names = [];
    for (var i = 0; i < pieces.length; i++) {
      var first = pieces[i];
      while (i + 1 < pieces.length && follows(pieces[i], pieces[i + 1])) {
        i++;
      }
      names.push(first.level + "." + first.mark + (pieces[i] === first ? "" : "-" + pieces[i].mark));
    }
    return names.join(" ");
  }

  function toldOf(load) {
    var pieces = piecesOf(load);
    var out = pieces.filter(function (piece) { return !kept[piece.step.id]; });
    var number = load.getAttribute("data-load");
    return out.length === 0 ? number + ": all" : out.length === pieces.length ? "" : number + ": not " + listed(out);
  }

  function tell() {
    var field = document.getElementById("tell");
    if (field !== null) {
      var parts = loads.map(toldOf).filter(Boolean);
      field.value = parts.length === 0 ? plan + " none" : plan + " " + parts.join("; ");
    }
  }

  // The pieces that "2left.5-8" names, or null where there are none.
  function pieceNamed(pieces, word) {
    var parts = /^(.+)\.([^.-]+)(?:-([^.-]+))?$/.exec(word);
    var same = function (mark) {
      return pieces.findIndex(function (piece) {
        return piece.level.toLowerCase() === parts[1] && piece.mark.toLowerCase() === mark;
      });
    };
    var from = parts === null ? -1 : same(parts[2]);
    var to = from < 0 || !parts[3] ? from : same(parts[3]);
    return from < 0 || to < from ? null : pieces.slice(from, to + 1);
  }

  // One load's part: {ticks: {id: done}}, or {fault: the word that was not understood}.
  function heardOf(part) {
    var found = /^(\d+)\s*:\s*(all|not)\b\s*(.*)$/.exec(part);
    var load = found === null ? undefined
      : loads.find(function (one) { return one.getAttribute("data-load") === found[1]; });
    if (load === undefined || (found[2] === "all") !== (found[3] === "")) {
      return { fault: part };
    }
    var ticks = {}, fault, pieces = piecesOf(load);
    pieces.forEach(function (piece) { ticks[piece.step.id] = true; });
    found[3].split(/[\s,]+/).filter(Boolean).forEach(function (word) {
      var named = pieceNamed(pieces, word);
      fault = fault || (named === null ? word : undefined);
      (named || []).forEach(function (piece) { ticks[piece.step.id] = false; });
    });
    tickFurniture(load, ticks);
    return { ticks: ticks, fault: fault };
  }

  // Shelves, posts and checks are done where a later piece is in; what is after all pieces, where the last is.
  function tickFurniture(load, ticks) {
    var last = piecesOf(load).pop();
    var later = last !== undefined && ticks[last.step.id];
    all(load, "ol.steps li").reverse().forEach(function (step) {
      if (step.id in ticks) {
        later = later || ticks[step.id];
      } else {
        ticks[step.id] = later;
      }
    });
  }

  // What to answer to a text; takes it over where all of it is understood.
  function heard(text) {
    var found = /^\s*([0-9a-f]{8})\s+([^]*)$/.exec(text.toLowerCase());
    if (found === null) {
      return words("unknown") + " " + text;
    }
    if (found[1] !== plan) {
      return words("other") + " " + found[1];
    }
    var rest = found[2].trim();
    var parts = rest === "none" ? [] : rest.split(";").map(function (part) { return heardOf(part.trim()); });
    var bad = parts.find(function (part) { return part.fault !== undefined; });
    if (bad) {
      return words("unknown") + " " + bad.fault;
    }
    kept = {};
    parts.forEach(function (part) {
      Object.keys(part.ticks).forEach(function (id) {
        if (part.ticks[id]) {
          kept[id] = 1;
        }
      });
    });
    past = [];
    save();
    refresh();
    return words("taken");
  }

  function refresh() {
    var now = next();
    steps.forEach(function (step) { shown(step, Boolean(kept[step.id]), step === now); });
    var line = now ? words("next") + " " + named(now) : words("all");
    said.textContent = storing ? line : line + " " + words("lost");
    tell();
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

  function copy() {
    var field = document.getElementById("tell");
    field.select();
    if (document.execCommand("copy")) {
      document.querySelector(".told output").textContent = words("copied");
    }
  }

  steps.forEach(function (step) {
    on(step.querySelector("input"), function (event) { set(step, event.target.checked); });
  });
  on(document.querySelector("button.next"), function () {
    var now = next();
    if (now) {
      set(now, true);
    }
    var then = next();
    if (then) {
      then.scrollIntoView({ block: "center" });
    }
  });
  on(document.querySelector("button.back"), function () {
    var last = past.pop();
    if (last) {
      set(last, false);
      last.scrollIntoView({ block: "center" });
    }
  });
  on(document.querySelector("button.copy"), copy);
  on(document.querySelector("button.hear"), function () {
    document.querySelector(".told output").textContent = heard(document.getElementById("hear").value);
  });
  body.classList.add("ready");
  refresh();
}());
