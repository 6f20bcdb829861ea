#include "base/money_text.h"

#include "base/rational.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

/* ISO 4217, list one (current currencies): the codes by their digits after the point. */
static const struct {
    int digits;
    const char *codes;
} currencies[] = {
    {2, "AED AFN ALL AMD ANG AOA ARS AUD AWG AZN BAM BBD BDT BGN BMD BND BOB BRL BSD BTN BWP BYN "
        "BZD CAD CDF CHF CNY COP CRC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS "
        "GIP GMD GTQ GYD HKD HNL HTG HUF IDR ILS INR IRR JMD KES KGS KHR KPW KYD KZT LAK LBP LKR "
        "LRD LSL MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MYR MZN NAD NGN NIO NOK NPR NZD "
        "PAB PEN PGK PHP PKR PLN QAR RON RSD RUB SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN "
        "SVC SYP SZL THB TJS TMT TOP TRY TTD TWD TZS UAH USD UYU UZS VED VES WST XCD XCG YER ZAR "
        "ZMW ZWG"},
    {0, "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX VND VUV XAF XOF XPF"},
    {3, "BHD IQD JOD KWD LYD OMR TND"},
};

int ks_currency_digits(const char *code)
{
    if (strlen(code) != 3 || strspn(code, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") != 3)
        return -1;
    for (size_t i = 0; i < sizeof currencies / sizeof *currencies; i++)
        for (const char *at = currencies[i].codes; *at; at += at[3] ? 4 : 3)
            if (memcmp(at, code, 3) == 0)
                return currencies[i].digits;
    return -1;
}

static int64_t power_of_ten(int digits)
{
    return digits > 0 ? 10 * power_of_ten(digits - 1) : 1;
}

static const char *read_amount(const char *text, int digits, ks_rational *minor)
{
    const char *at = text, *fault = ks_rational_read(&at, minor);
    if (fault)
        return fault;
    if (at[strspn(at, " \t")])
        return "write the amount alone, such as 12.50; the currency is the order's";
    if (strpbrk(text, "/eE") ||
        !ks_rational_times(*minor, (ks_rational){power_of_ten(digits), 1}, minor))
        return "write the amount with a point, such as 12.50";
    return NULL;
}

const char *ks_money_parse(const char *text, int digits, int64_t *minor)
{
    ks_rational exact;
    const char *fault = read_amount(text, digits, &exact);
    if (fault)
        return fault;
    if (exact.den != 1)
        return digits == 0   ? "this currency has no decimals"
               : digits == 2 ? "this currency has 2 decimals"
                             : "this currency has 3 decimals";
    *minor = exact.num;
    return NULL;
}

const char *ks_money_parse_fine(const char *text, int digits, double *minor)
{
    ks_rational exact;
    const char *fault = read_amount(text, digits, &exact);
    if (!fault)
        *minor = ks_rational_double(exact);
    return fault;
}

const char *ks_money_print(int64_t minor, int digits, ks_arena *arena)
{
    uint64_t size = minor < 0 ? 0 - (uint64_t)minor : (uint64_t)minor;
    uint64_t unit = (uint64_t)power_of_ten(digits);
    const char *sign = minor < 0 ? "-" : "";
    if (digits == 0)
        return ks_arena_print(arena, "%s%llu", sign, (unsigned long long)size);
    return ks_arena_print(arena, "%s%llu.%0*llu", sign, (unsigned long long)(size / unit), digits,
                          (unsigned long long)(size % unit));
}
