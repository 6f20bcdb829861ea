#include "base/units.h"

#include "base/rational.h"
#include "base/text.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

/* One unit is factor (+ shift, for temperatures) in the quantity's own unit, by definition: the
 * international yard and pound (1959), the Celsius scale, and the British thermal unit by the
 * steam tables (1055.05585262 J). */
typedef struct {
    ks_quantity quantity;
    const char *names; /* parted by |; the first is the one to declare */
    ks_rational factor, shift;
    bool joined; /* may be followed by a smaller unit: "1 ft 2 in" */
} unit;

static const unit units[] = {
    {KS_LENGTH, "mm|millimetre|millimetres|millimeter|millimeters", {1, 1}, {0, 1}, false},
    {KS_LENGTH, "cm|centimetre|centimetres|centimeter|centimeters", {10, 1}, {0, 1}, false},
    {KS_LENGTH, "m|metre|metres|meter|meters", {1000, 1}, {0, 1}, false},
    {KS_LENGTH, "in|inch|inches|\"|''|\u2033|\u201D|\u201C", {127, 5}, {0, 1}, false},
    {KS_LENGTH, "ft|foot|feet|'|\u2032|\u2019", {1524, 5}, {0, 1}, true},
    {KS_MASS, "kg|kilo|kilos|kilogram|kilograms", {1, 1}, {0, 1}, true},
    {KS_MASS, "g|gram|grams|gramme|grammes", {1, 1000}, {0, 1}, false},
    {KS_MASS, "lb|lbs|pound|pounds", {45359237, 100000000}, {0, 1}, true},
    {KS_MASS, "oz|ounce|ounces", {45359237, 1600000000}, {0, 1}, false},
    {KS_TEMP, "C|\u00B0C|\u00BAC|\u2103|deg C|degrees C|celsius", {1, 1}, {0, 1}, false},
    {KS_TEMP, "F|\u00B0F|\u00BAF|\u2109|deg F|degrees F|fahrenheit", {5, 9}, {-160, 9}, false},
    {KS_TEMP, "K|kelvin", {1, 1}, {-27315, 100}, false},
    {KS_TIME, "h|hr|hrs|hour|hours", {3600, 1}, {0, 1}, true},
    {KS_TIME, "min|mins|minute|minutes|m", {60, 1}, {0, 1}, true},
    {KS_TIME, "s|sec|secs|second|seconds", {1, 1}, {0, 1}, false},
    {KS_TIME, "d|day|days", {86400, 1}, {0, 1}, true},
    {KS_POWER, "kW|kilowatt|kilowatts", {1, 1}, {0, 1}, false},
    {KS_POWER, "W|watt|watts", {1, 1000}, {0, 1}, false},
    {KS_POWER, "BTU/h|BTU/hr", {52752792631, 180000000000000}, {0, 1}, false},
};
enum { N_UNITS = sizeof units / sizeof *units };

static const struct {
    const char *number, *unit, *bare;
} remedies[] = {
    [KS_LENGTH] = {"a length is written such as \"26 cm\", \"260 mm\" or \"10 1/2 in\"",
                   "a length ends in mm, cm, m, in or ft",
                   "a length needs its unit, such as \"26 cm\" or \"10 1/2 in\""},
    [KS_MASS] = {"a mass is written such as \"1.2 kg\", \"300 g\" or \"2 lb 4 oz\"",
                 "a mass ends in kg, g, lb or oz",
                 "a mass needs its unit, such as \"1.2 kg\" or \"2.5 lb\""},
    [KS_TEMP] = {"a temperature is written such as \"1186 C\" or \"2167 F\"",
                 "a temperature ends in C, F or K",
                 "a temperature needs its unit, such as \"1186 C\" or \"2167 F\""},
    [KS_RATE] = {"a rate is written such as \"100 C/h\" or \"180 F/h\"",
                 "a rate ends in C/h, F/h, K/h or C/min",
                 "a rate needs its unit, such as \"100 C/h\" or \"180 F/h\""},
    [KS_TIME] = {"a time is written such as \"1h30\", \"90 min\" or \"04:30\" (hours and minutes)",
                 "a time ends in h, min or s",
                 "a time needs its unit, such as \"90 min\", \"1h30\" or \"04:30\""},
    [KS_POWER] = {"a power is written such as \"11.5 kW\" or \"800 W\"",
                  "a power ends in kW or W (or BTU/h)",
                  "a power needs its unit, such as \"11.5 kW\""},
};
static const char out_of_order[] = "larger units come first and once, such as \"2 lb 4 oz\"";
static const char too_long[] = "round it to fewer digits";
static const char not_sixty[] = "after hours and a colon come minutes below 60, such as \"04:30\"";

static const char *skip_blanks(const char *at)
{
    for (;; at++)
        if (strncmp(at, "\u00A0", 2) == 0)
            at++;
        else if (*at != ' ' && *at != '\t')
            return at;
}

static bool is_letter(char sign)
{
    return (sign >= 'a' && sign <= 'z') || (sign >= 'A' && sign <= 'Z');
}

/* Bytes of `text` that are the `length` bytes of the name, letter case aside; 0 if it goes on as a
 * longer word. */
static size_t name_bytes(const char *text, const char *name, size_t length)
{
    char start[24];
    if (length >= sizeof start || strnlen(text, length) < length)
        return 0;
    memcpy(start, text, length);
    start[length] = '\0';
    char wanted[24];
    memcpy(wanted, name, length);
    wanted[length] = '\0';
    if (!ks_same_word(start, wanted))
        return 0;
    if (is_letter(name[length - 1]) && is_letter(text[length]))
        return 0;
    return length;
}

/* Bytes by which the text names the unit, by the longest of its names; 0 if it does not. */
static size_t unit_bytes(const char *text, const unit *of)
{
    size_t longest = 0;
    for (const char *name = of->names; *name;) {
        size_t length = strcspn(name, "|");
        size_t bytes = name_bytes(text, name, length);
        longest = bytes > longest ? bytes : longest;
        name += length + (name[length] == '|');
    }
    return longest;
}

/* The unit at *at, which moves behind it and an abbreviation's point; NULL if there is none. */
static const unit *take_unit(ks_quantity quantity, const char **at)
{
    const char *from = skip_blanks(*at);
    const unit *found = NULL;
    size_t longest = 0;
    for (int i = 0; i < N_UNITS; i++) {
        size_t bytes = units[i].quantity == quantity ? unit_bytes(from, &units[i]) : 0;
        if (bytes > longest) {
            longest = bytes;
            found = &units[i];
        }
    }
    if (found) {
        *at = from + longest;
        *at += **at == '.' && is_letter((*at)[-1]);
    }
    return found;
}

static const unit *unit_named(ks_quantity quantity, const char *name)
{
    const unit *found = name ? take_unit(quantity, &name) : NULL;
    return found && !*skip_blanks(name) ? found : NULL;
}

/* Degrees and a time, parted by a stroke or "per": the degrees' factor over the hours. */
static bool take_rate(const char **at, ks_rational *factor)
{
    const char *from = *at;
    const unit *degrees = take_unit(KS_TEMP, &from);
    from = skip_blanks(from);
    size_t parted = *from == '/' ? 1 : strncmp(from, "per ", 4) == 0 ? 4 : 0;
    if (!degrees || parted == 0)
        return false;
    from += parted;
    const unit *time = take_unit(KS_TIME, &from);
    if (!time)
        return false;
    *at = from;
    ks_rational per_hour = {3600 * time->factor.den, time->factor.num};
    return ks_rational_times(degrees->factor, per_hour, factor);
}

/* "04:30" or "04:30:15" in seconds. False: there is no colon, and *at has not moved. */
static bool take_clock(const char **at, ks_rational *seconds, const char **fault)
{
    const char *from = *at;
    int64_t total = 0;
    int parts = 0;
    for (;; from++) {
        size_t digits = strspn(from, "0123456789");
        long part = digits > 0 && digits < 5 ? strtol(from, NULL, 10) : -1;
        if (part < 0)
            return false;
        if (parts > 0 && (part > 59 || digits != 2))
            *fault = not_sixty;
        total = total * 60 + part;
        from += digits;
        if (++parts == 3 || *from != ':')
            break;
    }
    if (parts == 1)
        return false;
    *seconds = (ks_rational){parts == 2 ? total * 60 : total, 1};
    *at = from;
    return true;
}

/* A number and the unit behind it; `last` is the unit of the part before, NULL at the start. */
static const char *take_part(ks_quantity quantity, const char **at, const char *bare,
                             const unit **last, ks_rational *out)
{
    ks_rational number;
    const char *fault = ks_rational_read(at, &number);
    if (fault)
        return *last || !**at ? remedies[quantity].number : fault;
    const char *behind = skip_blanks(*at);
    const unit *found = take_unit(quantity, at);
    if (!found && *behind)
        return remedies[quantity].unit;
    bool minutes = *last && quantity == KS_TIME && (*last)->factor.num == 3600;
    if (!found && minutes) /* "1h30" */
        found = unit_named(KS_TIME, "min");
    else if (!found && !*last)
        found = unit_named(quantity, bare);
    if (!found)
        return remedies[quantity].bare;
    bool smaller =
        !*last || ks_rational_double(found->factor) < ks_rational_double((*last)->factor);
    if (!smaller || (*last && (!(*last)->joined || number.num < 0)))
        return out_of_order;
    *last = found;
    return ks_rational_times(number, found->factor, out) ? NULL : too_long;
}

static const char *take_parts(ks_quantity quantity, const char **at, const char *bare,
                              ks_rational *total)
{
    const unit *last = NULL;
    bool minus = false;
    *total = (ks_rational){0, 1};
    do {
        ks_rational part;
        const char *fault = take_part(quantity, at, bare, &last, &part);
        if (fault)
            return fault;
        if (minus)
            part.num = -part.num;
        minus = minus || part.num < 0;
        if (!ks_rational_plus(*total, part, total))
            return too_long;
        *at = skip_blanks(*at);
    } while (**at && last->joined);
    return ks_rational_plus(*total, last->shift, total) ? NULL : too_long;
}

static const char *parse_rate(const char **at, const char *bare, ks_rational *total)
{
    ks_rational number, factor;
    const char *fault = ks_rational_read(at, &number);
    if (fault)
        return fault;
    *at = skip_blanks(*at);
    if (!**at && !bare)
        return remedies[KS_RATE].bare;
    const char *named = **at ? *at : bare;
    if (!take_rate(&named, &factor))
        return remedies[KS_RATE].unit;
    *at = **at ? named : *at;
    return ks_rational_times(number, factor, total) ? NULL : too_long;
}

const char *ks_quantity_parse(ks_quantity quantity, const char *text, const char *bare,
                              double *value)
{
    const char *at = skip_blanks(text), *fault = NULL;
    ks_rational total = {0, 1};
    if (!*at)
        return remedies[quantity].number;
    if (quantity == KS_RATE)
        fault = parse_rate(&at, bare, &total);
    else if (quantity != KS_TIME || !take_clock(&at, &total, &fault))
        fault = take_parts(quantity, &at, bare, &total);
    if (fault)
        return fault;
    at = skip_blanks(at);
    if (*at)
        return *at >= '0' && *at <= '9' ? out_of_order : remedies[quantity].unit;
    *value = ks_rational_double(total);
    return NULL;
}

double ks_quantity_of(ks_quantity quantity, double number, const char *name)
{
    ks_rational factor = {1, 1}, shift = {0, 1};
    const unit *of = quantity == KS_RATE ? NULL : unit_named(quantity, name);
    bool known = of || (quantity == KS_RATE && take_rate(&name, &factor));
    assert(known);
    if (of) {
        factor = of->factor;
        shift = of->shift;
    }
    return number * (double)factor.num / (double)factor.den + ks_rational_double(shift);
}

bool ks_unit_known(ks_quantity quantity, const char *name)
{
    ks_rational factor;
    if (quantity == KS_RATE)
        return take_rate(&name, &factor) && !*skip_blanks(name);
    return unit_named(quantity, name) != NULL;
}

const char *ks_units_of(const ks_units *declared, ks_quantity quantity)
{
    if (quantity == KS_LENGTH)
        return declared->length;
    if (quantity == KS_MASS)
        return declared->mass;
    if (quantity == KS_TEMP)
        return declared->temp;
    if (quantity != KS_RATE || !declared->temp)
        return NULL;
    const unit *degrees = unit_named(KS_TEMP, declared->temp);
    assert(degrees);
    return degrees->names[0] == 'F' ? "F/h" : "C/h";
}

const char *ks_number_parse(const char *text, double *value)
{
    ks_rational number;
    const char *at = text, *fault = ks_rational_read(&at, &number);
    if (fault)
        return fault;
    if (*skip_blanks(at))
        return "write a number without a unit";
    *value = ks_rational_double(number);
    return NULL;
}
