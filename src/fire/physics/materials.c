#include "kilnstow/materials.h"
#include "studio/shelf_material.h"

#include <ctype.h>
#include <math.h>

#define PROPERTY(from, ...)                                                                        \
    {                                                                                              \
        .n = sizeof((ks_property_point[]){__VA_ARGS__}) / sizeof(ks_property_point),               \
        .points = (const ks_property_point[]){__VA_ARGS__}, .source = from                         \
    }
#define NOT_NEEDED                                                                                 \
    {                                                                                              \
        .source = "not used"                                                                       \
    }

#define SHEETS "typical makers' sheets, from memory"
#define INCROPERA "Incropera & DeWitt, appendix A.3, from memory"
#define SHOMATE "NIST Chemistry WebBook, Shomate equation, from memory"
#define HANDBOOK "handbooks, from memory"
#define C155 "test temperature of its ASTM C155 group, which is not a service limit"
#define NOTHING_TOLD "not told"
#define BAND_23 "middle of 520-650 kg/m3, one supplier's data by ASTM C134"
#define LINE_23                                                                                    \
    "engineering note, 0.12 + 1.0e-4 T; lies between cast and pressed brick of makers' sheets"
#define BLANKET "engineering note, 0.035 + 1.0e-4 T + 1.5e-7 T^2 for 128 kg/m3"
#define BLANKET_96 "1.1 times that of 128 kg/m3: their ratio in Incropera & DeWitt A.3, from memory"
#define SHELVES "refractory makers' tables of shelf materials"

/* Values of a formula a + b T + d / T^2, T in K, as the tables of a refractory engineer's site
 * print them. */
#define THERMAL_TABLES "refractory tables of thermal capacity, "
#define IFB_HEAT                                                                                   \
    PROPERTY(THERMAL_TABLES "fireclay: 1030 + 0.175 T - 30e6/T^2, T in K", {20, 732.2},            \
             {40, 778.9}, {60, 818.0}, {80, 851.3}, {100, 879.8}, {130, 916.0}, {160, 945.9},      \
             {200, 978.8}, {250, 1011.9}, {300, 1039.0}, {350, 1061.8}, {400, 1081.6},             \
             {500, 1115.1}, {600, 1143.5}, {700, 1168.6}, {800, 1191.8}, {900, 1213.5},            \
             {1000, 1234.3}, {1100, 1254.4}, {1300, 1293.2})
#define MULLITE_BRICK_HEAT                                                                         \
    PROPERTY(THERMAL_TABLES "mullite-silica: 1074 + 0.147 T - 31.6e6/T^2, T in K", {20, 749.4},    \
             {40, 797.8}, {60, 838.3}, {80, 872.5}, {100, 901.9}, {130, 938.8}, {160, 969.2},      \
             {200, 1002.4}, {250, 1035.4}, {300, 1062.1}, {350, 1084.2}, {400, 1103.2},            \
             {500, 1134.8}, {600, 1160.9}, {700, 1183.7}, {800, 1204.3}, {900, 1223.5},            \
             {1000, 1241.7}, {1100, 1259.1}, {1300, 1292.5})
#define FIBRE_HEAT                                                                                 \
    PROPERTY(THERMAL_TABLES "alumina-silica fibre: 1036 + 0.188 T - 28.6e6/T^2, T in K",           \
             {20, 758.3}, {40, 803.2}, {60, 840.9}, {80, 873.1}, {100, 900.8}, {130, 935.8},       \
             {160, 965.0}, {200, 997.2}, {250, 1029.9}, {300, 1056.7}, {350, 1079.5},              \
             {400, 1099.4}, {500, 1133.5}, {600, 1162.6}, {700, 1188.8}, {800, 1212.9},            \
             {900, 1235.8}, {1000, 1257.7}, {1100, 1279.0}, {1300, 1320.2})
/* The formula's own values. */
#define CLAY_HEAT                                                                                  \
    PROPERTY(                                                                                      \
        "Michot et al., J. Eur. Ceram. Soc.: 1128 + 0.102 T - 36e6/T^2, T in K, 40 to 1100 C",     \
        {20, 739.0}, {40, 792.8}, {60, 837.6}, {80, 875.4}, {100, 907.5}, {130, 947.6},            \
        {160, 980.3}, {200, 1015.5}, {250, 1049.8}, {300, 1076.9}, {350, 1098.9}, {400, 1117.2},   \
        {500, 1146.6}, {600, 1169.8}, {700, 1189.2}, {800, 1206.2}, {900, 1221.5}, {1000, 1235.7}, \
        {1100, 1249.0}, {1300, 1273.9})

static const ks_fire_material rows[] = {
    {"IFB 20", KS_LINING, PROPERTY(SHEETS ", cast", {200, 0.13}, {1000, 0.20}), IFB_HEAT, 540,
     SHEETS "; ASTM C155 allows 640", 0.7, HANDBOOK, 1065, C155},
    {"IFB 23", KS_LINING, PROPERTY(LINE_23, {0, 0.12}, {1000, 0.22}), IFB_HEAT, 585, BAND_23, 0.7,
     HANDBOOK, 1230, C155},
    {"IFB 26", KS_LINING,
     PROPERTY(SHEETS, {200, 0.24}, {400, 0.25}, {600, 0.27}, {800, 0.30}, {1000, 0.33}), IFB_HEAT,
     800, "typical 750-800 kg/m3, one supplier's data by ASTM C134", 0.7, HANDBOOK, 1400, C155},
    {"IFB 28", KS_LINING, PROPERTY(SHEETS, {200, 0.28}, {1000, 0.36}), MULLITE_BRICK_HEAT, 830,
     "middle of 780-880 kg/m3, one supplier's data by ASTM C134", 0.7, HANDBOOK, 1510, C155},
    {"fireclay brick", KS_LINING,
     PROPERTY(INCROPERA ", fired at 1600 K", {500, 1.0}, {800, 1.1}, {1100, 1.1}),
     PROPERTY(INCROPERA, {20, 960}, {1300, 960}), 2050, INCROPERA, 0.75, HANDBOOK, 0, NOTHING_TOLD},
    {"dense fireclay brick", KS_LINING, PROPERTY(INCROPERA, {205, 1.0}, {649, 1.5}, {1205, 1.8}),
     PROPERTY(INCROPERA, {20, 960}, {1300, 960}), 2645, INCROPERA, 0.75, HANDBOOK, 0, NOTHING_TOLD},
    {"blanket 96", KS_LINING,
     PROPERTY(BLANKET_96, {0, 0.0385}, {200, 0.067}, {400, 0.109}, {600, 0.164}, {800, 0.232},
              {1000, 0.314}, {1200, 0.408}),
     FIBRE_HEAT, 96, "by its name", 0.7, HANDBOOK, 1260, SHEETS},
    {"blanket 128", KS_LINING,
     PROPERTY(BLANKET, {0, 0.035}, {200, 0.061}, {400, 0.099}, {600, 0.149}, {800, 0.211},
              {1000, 0.285}, {1200, 0.371}),
     FIBRE_HEAT, 128, "by its name", 0.7, HANDBOOK, 1260, SHEETS},
    {"calcium silicate", KS_LINING,
     PROPERTY(INCROPERA, {37, 0.055}, {147, 0.063}, {257, 0.075}, {372, 0.089}, {477, 0.104}),
     PROPERTY(INCROPERA ", about 840-1000", {20, 840}, {600, 1000}), 220,
     INCROPERA ", middle of 190-250", 0.9, HANDBOOK, 927, "ASTM C656 and C533 type II"},
    {"vermiculite", KS_LINING, PROPERTY(INCROPERA ", loose", {27, 0.067}, {400, 0.15}),
     PROPERTY(INCROPERA, {20, 837}, {600, 837}), 120, INCROPERA ", middle of 80-160", 0.9, HANDBOOK,
     1000, HANDBOOK},
    {"cordierite", KS_FURNITURE, NOT_NEEDED, CLAY_HEAT, KS_CORDIERITE_KG_M3, SHELVES, 0.85,
     HANDBOOK, 1280, SHELVES},
    {"mullite", KS_FURNITURE, NOT_NEEDED, CLAY_HEAT, KS_MULLITE_KG_M3, HANDBOOK, 0.8, HANDBOOK,
     1400, SHELVES},
    {"silicon carbide", KS_FURNITURE, NOT_NEEDED,
     PROPERTY(HANDBOOK, {20, 670}, {200, 900}, {500, 1050}, {1000, 1190}, {1300, 1240}),
     KS_SILICON_CARBIDE_KG_M3,
     "weighed: a nitride-bonded shelf of 305 x 610 x 8 mm is 4.1 kg, potters' forum", 0.9, HANDBOOK,
     1450, HANDBOOK},
    {"alumina", KS_FURNITURE, NOT_NEEDED,
     PROPERTY(SHOMATE, {25, 773}, {400, 1132}, {800, 1239}, {1200, 1295}), KS_ALUMINA_KG_M3,
     "weighed: a dry-pressed shelf of 305 x 610 x 25 mm is 15.0 kg, potters' forum", 0.5, HANDBOOK,
     1600, HANDBOOK},
    {"clay", KS_WARE_BODY,
     PROPERTY("table of engineering materials, porcelain", {20, 1.5}, {1300, 1.5}), CLAY_HEAT, 2200,
     "fired stoneware 2.2-2.4 g/cm3, from memory", 0.85, HANDBOOK, 0, NOTHING_TOLD},
    {"heating wire", KS_METAL, NOT_NEEDED,
     PROPERTY("makers' sheets of iron-chromium-aluminium wire, from memory", {20, 460}, {400, 630},
              {1000, 710}),
     7100, SHEETS, 0.7, HANDBOOK, 1400, SHEETS},
};

static const ks_materials built_in = {sizeof rows / sizeof *rows, rows};

const ks_materials *ks_materials_built_in(void)
{
    return &built_in;
}

static const char *past_spaces(const char *text)
{
    while (*text == ' ' || *text == '\t')
        text++;
    return text;
}

static bool same_name(const char *a, const char *b)
{
    a = past_spaces(a);
    b = past_spaces(b);
    while (*a && *b) {
        if (*a == ' ' && *b == ' ') {
            a = past_spaces(a);
            b = past_spaces(b);
        } else if (tolower((unsigned char)*a++) != tolower((unsigned char)*b++)) {
            return false;
        }
    }
    return !*past_spaces(a) && !*past_spaces(b);
}

/* From the back, so that a user's material hides a built-in one. */
const ks_fire_material *ks_material_find(const ks_materials *materials, const char *name)
{
    for (int i = materials->count - 1; i >= 0; i--)
        if (same_name(materials->rows[i].name, name))
            return &materials->rows[i];
    return NULL;
}

static double least_value(const ks_property *property)
{
    double least = INFINITY;
    for (int i = 0; i < property->n; i++)
        least = fmin(least, property->points[i].value);
    return least;
}

double ks_property_at(const ks_property *property, double temp_c)
{
    if (property->n == 0)
        return 0;
    const ks_property_point *p = property->points;
    if (property->n == 1)
        return p->value;
    int i = 0;
    while (i < property->n - 2 && temp_c > p[i + 1].temp_c)
        i++;
    double slope = (p[i + 1].value - p[i].value) / (p[i + 1].temp_c - p[i].temp_c);
    return fmax(p[i].value + slope * (temp_c - p[i].temp_c), 0.5 * least_value(property));
}
