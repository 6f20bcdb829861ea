#include "fire/network_build.h"

#include <math.h>

#define EDGE_SHAPE                                                                                 \
    0.54 /* W/K per W/(m K) and metre of edge: Langmuir; Incropera table 4.1, from memory */

static int add_node(ks_network_builder *b, ks_node_kind kind)
{
    ks_network *net = &b->model->net;
    double room_c = b->parts->options->room_c;
    net->nodes[net->n_nodes] =
        (ks_node){.kind = kind, .temp_c = room_c, .old_c = room_c, .highest_c = room_c};
    return net->n_nodes++;
}

static int cells_of(double thickness_m, int asked)
{
    int cells = asked > 0 ? asked : (int)ceil(thickness_m / 0.0065);
    return cells < 3 ? 3 : cells > 40 ? 40 : cells;
}

static ks_status layers_of(ks_network_builder *b, const ks_lining *lining, ks_stack_layer *layers)
{
    for (int i = 0; i < lining->n_layers; i++) {
        const ks_layer *layer = &lining->layers[i];
        const ks_fire_material *row =
            ks_material_find(b->parts->options->materials, layer->material);
        if (!row || row->conductivity.n == 0)
            return ks_fail(
                b->err, KS_BAD_INPUT,
                "lining: no material \"%s\" that can be one; `list materials` names them",
                layer->material);
        ks_temp_curve *curves = KS_TAKE(b->arena, 2, ks_temp_curve);
        ks_temp_curve_of_property(&row->conductivity, &curves[0]);
        ks_temp_curve_of_property(&row->heat, &curves[1]);
        layers[i] =
            (ks_stack_layer){&curves[0], &curves[1], row->density_kg_m3, layer->thickness_mm * 1e-3,
                             cells_of(layer->thickness_mm * 1e-3, b->parts->options->cells)};
    }
    return KS_OK;
}

enum { LAYERS_MOST = 12 };

/* A lining's layers and what they add up to. */
typedef struct {
    ks_stack_layer layers[LAYERS_MOST];
    int n;
    double thickness_m;
    const ks_temp_curve *casing;
} built_lining;

static ks_status lining_of(ks_network_builder *b, const ks_lining *lining, ks_film film,
                           built_lining *out)
{
    if (lining->n_layers > LAYERS_MOST)
        return ks_fail(b->err, KS_BAD_INPUT, "lining: must be 1 to %d layers, not %d", LAYERS_MOST,
                       lining->n_layers);
    *out = (built_lining){.n = lining->n_layers};
    for (int i = 0; i < lining->n_layers; i++) {
        double mm = lining->layers[i].thickness_mm;
        if (!(mm >= 1 && mm <= 1000))
            return ks_fail(b->err, KS_BAD_INPUT, "lining: a layer must be 1 to 1000 mm, not %g mm",
                           mm);
        out->thickness_m += mm * 1e-3;
    }
    ks_temp_curve *casing = KS_TAKE(b->arena, 1, ks_temp_curve);
    ks_stack_casing_curve(&film, casing);
    out->casing = casing;
    return layers_of(b, lining, out->layers);
}

/* Every metre of edge where two linings meet conducts as 0.54 m more of shape. Half of it is
 * counted to either, as area that grows with depth: the edge's outer parts warm late, as they do in
 * truth. */
static double edge_growth(double edges_m)
{
    return EDGE_SHAPE * edges_m;
}

static int add_face(ks_network_builder *b, const built_lining *lining, ks_stack_shape shape)
{
    int node = add_node(b, KS_FACE_NODE);
    const ks_slant *slant = &b->parts->slant;
    const ks_fire_options *options = b->parts->options;
    shape.store = slant->store * options->store_factor;
    shape.conductance = slant->conductance * options->as_built;
    ks_layers *stack = KS_TAKE(b->arena, 1, ks_layers);
    ks_stack_build(lining->layers, lining->n, &shape, options->room_c, b->arena, stack);
    stack->casing_loss = lining->casing;
    b->model->net.nodes[node].stack = stack;
    return node;
}

static int add_flat_face(ks_network_builder *b, const built_lining *lining)
{
    const ks_heat_load *load = b->parts->load;
    double t = lining->thickness_m;
    double outside_m2 = load->area_m2 + load->perimeter_m * t + PI * t * t;
    return add_face(b, lining,
                    (ks_stack_shape){.hot_m2 = load->area_m2,
                                     .growth_m = edge_growth(load->perimeter_m),
                                     .casing_m2 = outside_m2});
}

static int add_wall_face(ks_network_builder *b, const built_lining *lining,
                         const ks_load_level *level)
{
    const ks_heat_load *load = b->parts->load;
    double t = lining->thickness_m, height_m = (level->to_m - level->from_m) * level->share;
    double edges_m = 2 * load->perimeter_m * height_m / load->height_m;
    return add_face(
        b, lining,
        (ks_stack_shape){.hot_m2 = load->perimeter_m * height_m,
                         .growth_m = 2 * load->corners * height_m + edge_growth(edges_m),
                         .casing_m2 = (load->perimeter_m + 2 * PI * t) * height_m});
}

const ks_temp_curve *ks_builder_heat(ks_network_builder *b, const char *material)
{
    const ks_fire_material *row = ks_material_find(b->parts->options->materials, material);
    if (!row || row->heat.n == 0)
        row = ks_material_find(b->parts->options->materials, "cordierite");
    ks_temp_curve *curve = KS_TAKE(b->arena, 1, ks_temp_curve);
    ks_temp_curve_of_property(&row->heat, curve);
    return curve;
}

#define WET_WATER 0.05 /* of its mass: more than clings to ware that is dry */

/* Takes the water out of the chemistry, which goes by temperature alone. */
static ks_drying *drying_of(ks_network_builder *b, const ks_ware_heat *ware,
                            ks_chemistry *chemistry)
{
    ks_drying *drying = KS_TAKE(b->arena, 1, ks_drying);
    double wall_m = ware->wall_kg_m > 0 ? ware->wall_kg_m / ware->fired_kg : 0.007;
    *drying = (ks_drying){.joule = chemistry->changes[0].joule,
                          .half_m = 0.5 * fmax(wall_m, 0.001),
                          .wet = ware->water_kg > WET_WATER * ware->fired_kg};
    chemistry->changes[0].joule = 0;
    return drying;
}

static int add_ware(ks_network_builder *b, const ks_ware_heat *ware)
{
    double kg = ware->fired_kg * b->parts->slant.ware;
    if (!(kg > 1e-4))
        return -1;
    int node = add_node(b, KS_WARE_NODE);
    ks_temp_curve *store = KS_TAKE(b->arena, 1, ks_temp_curve);
    ks_temp_curve_add(store, kg, ks_builder_heat(b, "clay"));
    ks_chemistry *chemistry = KS_TAKE(b->arena, 1, ks_chemistry);
    *chemistry = ks_ware_chemistry(ware);
    for (int i = 0; i < chemistry->n; i++)
        chemistry->changes[i].joule *= b->parts->slant.ware;
    b->model->net.nodes[node].store = store;
    b->model->net.nodes[node].drying = drying_of(b, ware, chemistry);
    b->model->net.nodes[node].chemistry = chemistry;
    return node;
}

static int add_furniture(ks_network_builder *b, const ks_load_level *level)
{
    if (!(ks_level_furniture_kg(level) > 1e-3))
        return -1;
    int node = add_node(b, KS_FURNITURE_NODE);
    ks_temp_curve *store = KS_TAKE(b->arena, 1, ks_temp_curve);
    for (int i = 0; i < level->n_furniture; i++)
        ks_temp_curve_add(store, level->furniture[i].kg * b->parts->slant.furniture,
                          ks_builder_heat(b, level->furniture[i].material));
    b->model->net.nodes[node].store = store;
    return node;
}

static void add_level(ks_network_builder *b, int i, const built_lining *wall)
{
    const ks_load_level *level = &b->parts->load->levels[i];
    ks_level_nodes *nodes = &b->model->levels[i];
    nodes->shelf = add_furniture(b, level);
    nodes->face = add_wall_face(b, wall, level);
    nodes->edge = add_ware(b, &level->edge);
    nodes->air = add_node(b, KS_AIR_NODE);
    nodes->middle = add_ware(b, &level->middle);
}

static double air_heat(double temp_c, const void *nothing)
{
    return ks_air_heat(temp_c);
}

static ks_status add_all(ks_network_builder *b)
{
    const ks_heat *heat = &b->parts->kiln->heat;
    const ks_heat_load *load = b->parts->load;
    double room_c = b->parts->options->room_c, e = heat->casing_emissivity;
    double flat_m = load->area_m2 / load->perimeter_m;
    built_lining wall, lid, floor;
    if (lining_of(b, &heat->wall, (ks_film){KS_UPRIGHT_FILM, load->height_m, e, room_c}, &wall) ||
        lining_of(b, &heat->lid, (ks_film){KS_UP_FILM, flat_m, e, room_c}, &lid) ||
        lining_of(b, &heat->floor, (ks_film){KS_DOWN_FILM, flat_m, e, room_c}, &floor))
        return KS_BAD_INPUT;
    b->model->floor = add_flat_face(b, &floor);
    for (int i = 0; i < load->n; i++)
        add_level(b, i, &wall);
    b->model->lid = add_flat_face(b, &lid);
    return KS_OK;
}

ks_status ks_fired_model_of(const ks_model_parts *parts, ks_arena *arena, ks_fired_model *out,
                            ks_error *err)
{
    ks_network_builder b = {parts, arena, out, err, 0};
    int n = parts->load->n;
    *out = (ks_fired_model){.n_levels = n, .levels = KS_TAKE(arena, n, ks_level_nodes)};
    out->net.room_c = parts->options->room_c;
    out->net.nodes = KS_TAKE(arena, 2 + 5 * n, ks_node);
    ks_temp_curve *air = KS_TAKE(arena, 1, ks_temp_curve);
    ks_temp_curve_of_function(air_heat, NULL, air);
    out->net.air_heat = air;
    if (add_all(&b))
        return KS_BAD_INPUT;
    ks_builder_supply(&b);
    ks_builder_link(&b);
    ks_network_ready(&out->net, arena);
    return KS_OK;
}
