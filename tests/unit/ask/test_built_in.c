#include "check.h"

#include "built_in.h"

#include <stdlib.h>
#include <string.h>

static dw_data *data_of(const char *config_dir, dw_status (*read)(const char *, dw_diag_list *, dw_data *))
{
    dw_data *data = calloc(1, sizeof *data);
    assert_non_null(data);
    assert_int_equal(read(config_dir, NULL, data), DW_OK);
    return data;
}

/* What the build packed is what the program reads from the same texts. */
static void packed_data_are_those_of_the_texts(void **state)
{
    (void)state;
    dw_data *packed = data_of(NULL, dw_built_in_read);
    dw_data *texts = data_of(NULL, dw_read_data);
    dw_data *folder = data_of(DW_CONFIG_DIR, dw_built_in_read);
    assert_memory_equal(packed, texts, sizeof *packed);
    assert_memory_equal(folder, texts, sizeof *folder);
    free(packed);
    free(texts);
    free(folder);
}

/* Half a machine's data would be worse than none. */
static void packed_data_are_whole(void **state)
{
    (void)state;
    if (dw_built_in_data.words == NULL) {
        assert_int_equal(dw_built_in_data.size, 0);
    } else {
        assert_int_equal(dw_built_in_data.size, sizeof(dw_data));
    }
}

static void faults_are_told(void **state)
{
    (void)state;
    assert_int_equal(dw_built_in_read(NULL, NULL, NULL), DW_ERR_ARG);
    dw_data *data = calloc(1, sizeof *data);
    assert_non_null(data);
    assert_int_equal(dw_built_in_read("/tmp/no/such/directory", NULL, data), DW_ERR_IO);
    free(data);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(packed_data_are_those_of_the_texts),
        cmocka_unit_test(packed_data_are_whole),
        cmocka_unit_test(faults_are_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
