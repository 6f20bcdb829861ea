/* What holds for every firing of a kiln. Common practice where no source is named. */
#include "kilnstow/fire.h"

#include "base/language.h"
#include "fire/run_job.h"
#include "studio/display.h"

#define CLEAR_MM 450.0 /* 305 to 457 mm are asked for of electric kilns, more of gas kilns */

enum { SHORT = 4, ALL = 11 };

static const char *supply_words(bool gas)
{
    return gas ? ks_tr("gas: burners, pipes and flue by a licensed fitter and the local gas code")
               : ks_tr("circuit: it runs for hours, so the load may be 80 % of what wire and "
                       "breaker are rated for (common code); local electrical code and a "
                       "licensed electrician decide");
}

static const char *off_words(bool gas)
{
    return gas ? ks_tr("smell of gas, or a flame that is out: shut the main valve, touch no "
                       "switch, air the room, and light nothing before the gas is gone")
               : ks_tr("switch it off at the wall before a hand, a shelf or a tool goes in; only a "
                       "licensed electrician opens its panel");
}

static void fill(const char **lines, bool gas, const ks_display *display, ks_arena *arena)
{
    int n = 0;
    lines[n++] = ks_tr("ventilate: firing gives off carbon monoxide, sulphur and metal fumes; use "
                       "a vent to the outside, and a carbon monoxide alarm in rooms where people "
                       "stay");
    lines[n++] = ks_arena_print(arena,
                                "never open it hot: wait until it reads below %s; sooner cracks "
                                "ware and shelves and burns people",
                                ks_show_temp(display, OPEN_AT_C, arena));
    lines[n++] = ks_tr("do not leave it to the controller alone: be there when it should end");
    lines[n++] = supply_words(gas);
    lines[n++] = off_words(gas);
    lines[n++] = ks_arena_print(arena,
                                "keep %s clear all round it, or what its maker and the local code "
                                "ask for; nothing that burns stands, hangs or lies near it",
                                ks_show_length(display, CLEAR_MM, arena));
    lines[n++] = ks_tr("look in only through a shade made for infrared; sunglasses are none");
    lines[n++] = ks_tr("fire nothing that is still wet: it bursts; thick ware is dry when two "
                       "weighings a day apart are the same");
    lines[n++] = ks_tr("dust of clay, glaze, kiln wash and brick harms the lungs for good: wet "
                       "cleaning, no sweeping, a respirator fit for it");
    lines[n++] = ks_tr("a shelf of a large kiln is a load for two; look it over for cracks before "
                       "it bears ware");
    lines[n++] = ks_tr("if something burns or it will not switch off: off at the main switch or "
                       "valve, leave it shut, get everyone out, call the fire brigade");
}

ks_usual_cautions ks_kiln_cautions(const ks_kiln *kiln, const ks_display *display, ks_arena *arena)
{
    const char **lines = KS_TAKE(arena, ALL, const char *);
    fill(lines, kiln->heat.kind == KS_GAS, display, arena);
    return (ks_usual_cautions){ALL, SHORT, lines};
}
