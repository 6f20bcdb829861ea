#include "base/units.h"

#include "base/unit_names.h"
#include "base/text.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

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

/* Degrees and a time, parted by a stroke or "per": the degrees' factor over the hours. */
static bool take_rate(const char **at, ks_rational *factor)
{
    const char *from = *at;
    const ks_unit *degrees = ks_unit_take(KS_TEMP, &from);
    from = ks_blanks_skip(from);
    size_t parted = *from == '/' ? 1 : strncmp(from, "per ", 4) == 0 ? 4 : 0;
    if (!degrees || parted == 0)
        return false;
    from += parted;
    const ks_unit *time = ks_unit_take(KS_TIME, &from);
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
                             const ks_unit **last, ks_rational *out)
{
    ks_rational number;
    const char *fault = ks_rational_read(at, &number);
    if (fault)
        return *last || !**at ? remedies[quantity].number : fault;
    const char *behind = ks_blanks_skip(*at);
    const ks_unit *found = ks_unit_take(quantity, at);
    if (!found && *behind)
        return remedies[quantity].unit;
    bool minutes = *last && quantity == KS_TIME && (*last)->factor.num == 3600;
    if (!found && minutes) /* "1h30" */
        found = ks_unit_named(KS_TIME, "min");
    else if (!found && !*last)
        found = ks_unit_named(quantity, bare);
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
    const ks_unit *last = NULL;
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
        *at = ks_blanks_skip(*at);
    } while (**at && last->joined);
    return ks_rational_plus(*total, last->shift, total) ? NULL : too_long;
}

static const char *parse_rate(const char **at, const char *bare, ks_rational *total)
{
    ks_rational number, factor;
    const char *fault = ks_rational_read(at, &number);
    if (fault)
        return fault;
    *at = ks_blanks_skip(*at);
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
    const char *at = ks_blanks_skip(text), *fault = NULL;
    ks_rational total = {0, 1};
    if (!*at)
        return remedies[quantity].number;
    if (quantity == KS_RATE)
        fault = parse_rate(&at, bare, &total);
    else if (quantity != KS_TIME || !take_clock(&at, &total, &fault))
        fault = take_parts(quantity, &at, bare, &total);
    if (fault)
        return fault;
    at = ks_blanks_skip(at);
    if (*at)
        return *at >= '0' && *at <= '9' ? out_of_order : remedies[quantity].unit;
    *value = ks_rational_double(total);
    return NULL;
}

double ks_quantity_of(ks_quantity quantity, double number, const char *name)
{
    ks_rational factor = {1, 1}, shift = {0, 1};
    const ks_unit *of = quantity == KS_RATE ? NULL : ks_unit_named(quantity, name);
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
        return take_rate(&name, &factor) && !*ks_blanks_skip(name);
    return ks_unit_named(quantity, name) != NULL;
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
    const ks_unit *degrees = ks_unit_named(KS_TEMP, declared->temp);
    assert(degrees);
    return degrees->names[0] == 'F' ? "F/h" : "C/h";
}

const char *ks_number_parse(const char *text, double *value)
{
    ks_rational number;
    const char *at = text, *fault = ks_rational_read(&at, &number);
    if (fault)
        return fault;
    if (*ks_blanks_skip(at))
        return "write a number without a unit";
    *value = ks_rational_double(number);
    return NULL;
}
