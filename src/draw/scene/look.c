#include "draw/scene/look.h"

#define CLAY 0x8C4A2F
#define GREY 0x6B6B6B
#define PALE 0xF1EEE8

/* Line widths 0.7 and 0.35 mm, and thinner for hatching and rules: a ratio of about 1 to the root
 * of two, as ISO 128 has it (from memory). Dashes: hidden edges; long dash, double dot: what moves.
 */
const ks_look_of ks_looks[KS_LOOKS] = {
    [KS_LOOK_FRAME] = {"frame", 0.7, {0}, 0x000000, -1, false},
    [KS_LOOK_RULE] = {"rule", 0.18, {0}, GREY, -1, false},
    [KS_LOOK_ACCENT] = {"accent", 0, {0}, 0, CLAY, false},
    [KS_LOOK_BAND] = {"band", 0, {0}, 0, PALE, false},
    [KS_LOOK_TICK] = {"tick", 0.35, {0}, 0x000000, 0xFFFFFF, false},
    [KS_LOOK_SOLID] = {"solid", 0, {0}, 0, 0x000000, false},
    [KS_LOOK_BLANK] = {"blank", 0.35, {0}, 0x000000, 0xFFFFFF, false},
    [KS_LOOK_WALL] = {"wall", 0.35, {0}, GREY, 0xDAD3C8, false},
    [KS_LOOK_CHAMBER] = {"chamber", 0.7, {0}, 0x000000, 0xFFFFFF, false},
    [KS_LOOK_LIMIT] = {"limit", 0.25, {3, 0.8, 0.5, 0.8}, GREY, -1, false},
    [KS_LOOK_SHELF] = {"shelf", 0.5, {0}, 0x000000, PALE, false},
    [KS_LOOK_SHELF_FAINT] = {"shelf-faint", 0.18, {0}, GREY, -1, false},
    [KS_LOOK_POST] = {"post", 0, {0}, 0, 0x000000, false},
    [KS_LOOK_POST_FAINT] = {"post-faint", 0.25, {1, 0.7}, GREY, -1, false},
    [KS_LOOK_KEEP_OUT] = {"keep-out", 0.35, {0}, 0x000000, -1, false},
    [KS_LOOK_HATCH] = {"hatch", 0.18, {0}, 0x000000, -1, false},
    [KS_LOOK_BODY_EDGE] = {"body-edge", 1.4, {0}, 0x000000, 0x000000, false},
    [KS_LOOK_BODY] = {"body", 0, {0}, 0, 0xFFFFFF, false},
    [KS_LOOK_BODY_FINE_EDGE] = {"body-fine-edge", 0.7, {0}, 0x000000, 0x000000, false},
    [KS_LOOK_BODY_PALE_EDGE] = {"body-pale-edge", 0.7, {0}, 0xA0A0A0, 0xA0A0A0, false},
    [KS_LOOK_BODY_PALE] = {"body-pale", 0, {0}, 0, 0xFFFFFF, false},
    [KS_LOOK_RIM] = {"rim", 0.25, {0}, 0x000000, -1, false},
    [KS_LOOK_FOOT] = {"foot", 0.35, {1.4, 0.9}, 0x000000, -1, false},
    [KS_LOOK_SETTER] = {"setter", 0.35, {3, 0.7, 0.4, 0.7}, 0x000000, -1, false},
    [KS_LOOK_LEADER] = {"leader", 0.25, {0}, 0x000000, -1, false},
    [KS_LOOK_DOT] = {"dot", 0, {0}, 0, 0x000000, false},
    [KS_LOOK_SIZE] = {"size", 0.25, {0}, CLAY, -1, false},
    [KS_LOOK_CURVE] = {"curve", 0.7, {0}, CLAY, -1, false},
    [KS_LOOK_CURVE_2] = {"curve-2", 0.5, {2, 1}, 0x000000, -1, false},
    [KS_LOOK_CURVE_3] = {"curve-3", 0.35, {0}, 0x000000, -1, false},
    [KS_LOOK_CURVE_4] = {"curve-4", 0.6, {0.6, 0.8}, 0x000000, -1, false},
    [KS_LOOK_GRID] = {"grid", 0.18, {0}, 0xBBBBBB, -1, false},
    [KS_LOOK_TEXT] = {"text", 0, {0}, 0x000000, -1, false},
    [KS_LOOK_STRONG] = {"strong", 0, {0}, 0x000000, -1, true},
    [KS_LOOK_FAINT] = {"faint", 0, {0}, 0x4A4A4A, -1, false},
    [KS_LOOK_NUMBER] = {"number", 0, {0}, 0x000000, -1, true},
    [KS_LOOK_INVERSE] = {"inverse", 0, {0}, 0xFFFFFF, -1, true},
};

/* White, then tints of the Okabe-Ito yellow, sky blue and vermillion, each about 13 steps of
 * lightness (CIE L*) below the one before: 100, 92, 79, 66. */
const int32_t ks_fills[KS_FILLS + 1] = {0xFFFFFF, 0xFFFFFF, 0xF2E88F, 0x96CBEA, 0xE08C5B};
