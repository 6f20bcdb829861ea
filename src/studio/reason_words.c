#include "studio/reason_words.h"

#include "base/language.h"
#include "base/text.h"
#include "studio/display.h"
#include "studio/reason_list.h"

#include <stddef.h>
#include <string.h>

/* Whose words are being put together, and how. */
typedef struct {
    const ks_reason *of;
    const ks_display *display;
    ks_arena *arena;
    bool english;
} telling;

static const char *said(const telling *t, const char *message)
{
    return t->english ? message : ks_tr(message);
}

static const char *filled(const telling *t, const char *message);

/* How a figure is told, and where it lies in the record. */
typedef enum {
    LACK,    /* a length, rounded up */
    SPARE,   /* one rounded down */
    UP,      /* one in whole mm or sixteenths, rounded up */
    IN_CLAY, /* the same of wet clay, in brackets; nothing where it is 0 */
    MASS,
    LIFTED,
    HOISTED,
    GRAMS,
    PER_CENT,
    WHOLE,
    PEOPLE,
    AS_WRITTEN, /* by someone */
    WORD,       /* one of our own */
    FORBIDS
} how_told;

typedef struct {
    const char *key;
    how_told how;
    size_t at;
} figure;

#define FIGURE(key, how, member)                                                                   \
    {                                                                                              \
        key, how, offsetof(ks_reason, member)                                                      \
    }
static const figure figures[] = {
    FIGURE("by", LACK, by_mm),
    FIGURE("length", UP, length_mm),
    FIGURE("margin", UP, margin_mm),
    FIGURE("carbide", UP, carbide_mm),
    FIGURE("wet", IN_CLAY, wet_mm),
    FIGURE("room", SPARE, room_mm),
    FIGURE("mass", MASS, mass_kg),
    FIGURE("most", MASS, most_kg),
    FIGURE("lifted", LIFTED, lifted_kg),
    FIGURE("hoist", HOISTED, hoist_kg),
    FIGURE("lost", GRAMS, lost_kg),
    FIGURE("percent", PER_CENT, percent),
    FIGURE("people", PEOPLE, people),
    FIGURE("load", WHOLE, load),
    FIGURE("level", AS_WRITTEN, level),
    FIGURE("id", AS_WRITTEN, id),
    FIGURE("kiln", AS_WRITTEN, kiln),
    FIGURE("kiln_name", AS_WRITTEN, kiln_name),
    FIGURE("firing", AS_WRITTEN, firing),
    FIGURE("member", AS_WRITTEN, member),
    FIGURE("asks", AS_WRITTEN, asks),
    FIGURE("has", AS_WRITTEN, has),
    FIGURE("atmosphere", WORD, atmosphere),
    FIGURE("fired_in", WORD, fired_in),
    FIGURE("material", WORD, material),
    FIGURE("part", WORD, part),
    FIGURE("of", FORBIDS, of),
};

static const char *people(const telling *t, int n)
{
    if (t->english)
        return ks_joined(ks_number_print(n, t->arena), " ", n == 1 ? "person" : "people", t->arena);
    return ks_arena_print(t->arena, ks_tr_count(n, "%d person", "%d people"), n);
}

static const char *forbids(const telling *t, ks_reason_of of)
{
    static const char *const messages[] = {
        [KS_OF_PIECE] = KS_WORDS("the piece"),
        [KS_OF_BODY] = KS_WORDS("the body \"{id}\""),
        [KS_OF_SETTER] = KS_WORDS("the setter's body \"{id}\""),
        [KS_OF_GLAZE] = KS_WORDS("the glaze \"{id}\""),
    };
    return filled(t, said(t, messages[of]));
}

static const char *in_wet_clay(const telling *t, double mm)
{
    telling clay = *t;
    ks_reason length = {.length_mm = mm};
    clay.of = &length;
    return mm > 0 ? filled(&clay, said(t, KS_WORDS(" ({length} of wet clay)"))) : "";
}

static const char *with_unit(const telling *t, double number, int decimals, const char *unit)
{
    return ks_joined(ks_number_fixed(number, decimals, t->arena), " ", unit, t->arena);
}

static const char *number_told(const telling *t, how_told how, double number)
{
    switch (how) {
    case LACK:
        return ks_show_lack(t->display, number, t->arena);
    case SPARE:
        return ks_show_spare(t->display, number, t->arena);
    case UP:
        return ks_show_length_up(t->display, number, t->arena);
    case IN_CLAY:
        return in_wet_clay(t, number);
    case MASS:
        return ks_show_mass(t->display, number, t->arena);
    case LIFTED:
    case HOISTED:
        return ks_show_burden(t->display, number, how == HOISTED, t->arena);
    case GRAMS:
        return with_unit(t, 1000 * number, 0, "g");
    default:
        return with_unit(t, number, 1, "%");
    }
}

static const char *text_told(const telling *t, how_told how, const char *text)
{
    if (!text)
        return "";
    return how == WORD ? said(t, text) : text;
}

static const char *figure_told(const telling *t, const figure *it)
{
    const void *place = (const char *)t->of + it->at;
    switch (it->how) {
    case FORBIDS:
        return forbids(t, *(const ks_reason_of *)place);
    case WHOLE:
        return ks_number_print(*(const int *)place, t->arena);
    case PEOPLE:
        return people(t, *(const int *)place);
    case AS_WRITTEN:
    case WORD:
        return text_told(t, it->how, *(const char *const *)place);
    default:
        return number_told(t, it->how, *(const double *)place);
    }
}

static const char *told_of(const telling *t, const char *key)
{
    for (size_t i = 0; i < sizeof figures / sizeof *figures; i++)
        if (strcmp(figures[i].key, key) == 0)
            return figure_told(t, &figures[i]);
    return "";
}

static const char *filled(const telling *t, const char *message)
{
    ks_text words = {.arena = t->arena};
    while (*message) {
        size_t before = strcspn(message, "{");
        ks_text_add_n(&words, message, before);
        message += before;
        size_t length = strcspn(message, "}");
        if (message[length] != '}')
            break;
        const char *key = ks_arena_text_n(t->arena, message + 1, length - 1);
        ks_text_add(&words, told_of(t, key));
        message += length + 1;
    }
    return ks_text_end(&words);
}

static const char *words_of(const telling *t)
{
    const char *message = ks_reason_entry_of(t->of->name)->says;
    return *message ? filled(t, said(t, message)) : "";
}

const char *ks_reason_words(const ks_reason *reason, const ks_display *display, ks_arena *arena)
{
    return words_of(&(telling){reason, display, arena, false});
}

const char *ks_reason_english(const ks_reason *reason, const ks_display *display, ks_arena *arena)
{
    return words_of(&(telling){reason, display, arena, true});
}
