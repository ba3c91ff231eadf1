#include "read_data.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "data_reader.h"
#include "strbuf.h"
#include "yaml_tree.h"

/* In this order: later files refer to sources and species. */
static const struct {
    const char *name;
    void (*read)(dw_data_reader *reader, const dw_node *root, dw_data *data);
} files[] = {
    {"sources.yaml", dw_data_read_sources}, {"species.yaml", dw_data_read_species},
    {"fuels.yaml", dw_data_read_fuels},     {"flow.yaml", dw_data_read_flow},
    {"bands.yaml", dw_data_read_bands},     {"drills.yaml", dw_data_read_drills},
    {"co.yaml", dw_data_read_co},
    {"oxides.yaml", dw_data_read_oxides},   {"glazes.yaml", dw_data_read_glazes},
    {"spreads.yaml", dw_data_read_spreads}, {"terms.yaml", dw_data_read_terms},
};
enum { FILE_COUNT = DW_COUNT_OF(files), SOURCES = 0, SPECIES = 1 };

/* A text to read: built in, or owned when it came from a file. */
typedef struct text_source {
    char *path;  /* owned: what messages call it    */
    char *owned; /* owned; NULL when it is built in */
    const char *text;
    size_t length;
} text_source;

static void release(text_source *source)
{
    free(source->path);
    free(source->owned);
    *source = (text_source){NULL, NULL, NULL, 0};
}

/* "directory/name", owned by the caller; NULL when out of memory. */
static char *joined_path(const char *directory, const char *name)
{
    dw_strbuf path;
    dw_strbuf_init(&path);
    dw_strbuf_puts(&path, directory);
    if (directory[0] != '\0' && directory[strlen(directory) - 1] != '/') {
        dw_strbuf_puts(&path, "/");
    }
    dw_strbuf_puts(&path, name);
    return dw_strbuf_take(&path);
}

/* All bytes of an open file. Too long a file is told apart by its size here, so that nothing of
 * it need be kept. */
static dw_status read_stream(FILE *stream, dw_diag_list *diag, text_source *source)
{
    const dw_place place = {source->path, 0, 0};
    dw_strbuf bytes;
    dw_strbuf_init(&bytes);
    char chunk[8192];
    size_t got;
    while ((got = fread(chunk, 1, sizeof chunk, stream)) > 0) {
        dw_strbuf_add(&bytes, chunk, got);
        if (bytes.failed) {
            dw_strbuf_free(&bytes);
            return DW_ERR_NOMEM;
        }
        if (bytes.length > DW_TREE_BYTES_MAX) {
            dw_diag_add(diag, DW_ERROR, "too-large", place, "file is over %d MB long",
                        DW_TREE_BYTES_MAX / (1024 * 1024));
            dw_strbuf_free(&bytes);
            return DW_ERR_INPUT;
        }
    }
    if (ferror(stream)) {
        dw_diag_add(diag, DW_ERROR, "not-readable", place, "reading failed");
        dw_strbuf_free(&bytes);
        return DW_ERR_IO;
    }
    source->length = bytes.length;
    dw_strbuf_add(&bytes, "", 0); /* an empty file still needs a text */
    source->owned = dw_strbuf_take(&bytes);
    source->text = source->owned;
    return source->owned == NULL ? DW_ERR_NOMEM : DW_OK;
}

/* Tries directory/name. DW_OK with text NULL when there is no such file. */
static dw_status open_replacement(const char *directory, const char *name, dw_diag_list *diag,
                                  text_source *source)
{
    source->path = joined_path(directory, name);
    if (source->path == NULL) return DW_ERR_NOMEM;
    errno = 0;
    FILE *stream = fopen(source->path, "rb");
    if (stream == NULL) {
        if (errno == ENOENT || errno == ENOTDIR) {
            free(source->path);
            source->path = NULL;
            return DW_OK;
        }
        if (errno == ENOMEM) return DW_ERR_NOMEM;
        dw_diag_add(diag, DW_ERROR, "not-readable", (dw_place){source->path, 0, 0},
                    "cannot be opened");
        return DW_ERR_IO;
    }
    const dw_status status = read_stream(stream, diag, source);
    (void)fclose(stream);
    return status;
}

static dw_status open_built_in(const char *name, text_source *source)
{
    source->path = joined_path("built-in", name);
    if (source->path == NULL) return DW_ERR_NOMEM;
    for (const dw_embedded *file = dw_embedded_files; file->name != NULL; file++) {
        if (strcmp(file->name, name) == 0) {
            source->text = (const char *)file->bytes;
            source->length = file->length;
            return DW_OK;
        }
    }
    return DW_ERR_BUG;
}

/* Parses one text and hands its tree to its reader. Faults of content are only counted. */
static dw_status read_file(dw_data_reader *reader, size_t index, const text_source *source,
                           dw_data *data)
{
    dw_tree *tree = NULL;
    const dw_status status =
        dw_tree_read(source->path, source->text, source->length, reader->diag, &tree);
    if (status == DW_ERR_INPUT) {
        reader->fault_count++;
        return DW_OK;
    }
    if (status != DW_OK) return status;
    files[index].read(reader, dw_tree_root(tree), data);
    dw_tree_destroy(tree);
    return DW_OK;
}

static dw_status read_all(dw_data_reader *reader, text_source *sources, dw_data *data)
{
    for (size_t i = 0; i < FILE_COUNT; i++) {
        const int before = reader->fault_count;
        const dw_status status = read_file(reader, i, &sources[i], data);
        if (status != DW_OK) return status;
        if (i == SOURCES) reader->sources_known = reader->fault_count == before;
        if (i == SPECIES) reader->species_known = reader->fault_count == before;
    }
    return reader->fault_count == 0 ? DW_OK : DW_ERR_INPUT;
}

/* Finds every text: replacements first, then what is built in. */
static dw_status open_all(const char *config_dir, dw_diag_list *diag, text_source *sources)
{
    bool found = config_dir == NULL;
    for (size_t i = 0; i < FILE_COUNT; i++) {
        dw_status status = DW_OK;
        if (config_dir != NULL) {
            status = open_replacement(config_dir, files[i].name, diag, &sources[i]);
        }
        if (status == DW_OK && sources[i].text == NULL) {
            status = open_built_in(files[i].name, &sources[i]);
        } else {
            found = true;
        }
        if (status != DW_OK) return status;
    }
    if (found) return DW_OK;

    dw_strbuf names;
    dw_strbuf_init(&names);
    for (size_t i = 0; i < FILE_COUNT; i++) {
        dw_strbuf_puts(&names, i == 0 ? "" : ", ");
        dw_strbuf_puts(&names, files[i].name);
    }
    char *list = dw_strbuf_take(&names);
    if (list == NULL) return DW_ERR_NOMEM;
    dw_diag_add(diag, DW_ERROR, "no-config", (dw_place){config_dir, 0, 0},
                "no such directory, or none of the files %s in it", list);
    free(list);
    return DW_ERR_IO;
}

dw_status dw_read_data(const char *config_dir, dw_diag_list *diag, dw_data *data)
{
    if (data == NULL) return DW_ERR_ARG;
    memset(data, 0, sizeof *data);
    text_source sources[FILE_COUNT] = {{NULL, NULL, NULL, 0}};
    dw_data_reader reader = {diag, data, false, false, 0};

    dw_status status = open_all(config_dir, diag, sources);
    if (status == DW_OK) status = read_all(&reader, sources, data);
    for (size_t i = 0; i < FILE_COUNT; i++)
        release(&sources[i]);
    /* Half-read data must not pass for data. */
    if (status != DW_OK) memset(data, 0, sizeof *data);
    return status;
}
