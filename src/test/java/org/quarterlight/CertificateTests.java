package org.quarterlight;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.TreeSet;
import java.util.UUID;
import java.util.concurrent.TimeUnit;
import java.util.regex.Pattern;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.text.PDFTextStripper;
import org.apache.pdfbox.text.TextPosition;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.io.TempDir;
import org.quarterlight.fleet.CabCodes;
import org.quarterlight.history.HistoryChain;
import org.quarterlight.repair.MeasureOnSite;
import org.quarterlight.repair.SiteMeasurements;
import org.quarterlight.tenancy.Role;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.core.env.Environment;
import org.springframework.http.HttpMethod;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.datasource.DriverManagerDataSource;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;
import org.verapdf.gf.foundry.VeraGreenfieldFoundryProvider;
import org.verapdf.pdfa.Foundries;
import org.verapdf.pdfa.flavours.PDFAFlavour;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** The certificate of a closed job stands up: on paper, signed, checked without the service and by whoever holds it. */
@QuarterlightTest
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class CertificateTests {
    private static final String NOTES =
            "Clear, level. \uD83D\uDC4D\uD83C\uDFFD \uD83D\uDE00 نظيف ואטום, чисто, 你好 \u26A0\uFE0F";

    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private TestBusiness business;

    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private CabCodes cabCodes;

    @Autowired
    private SiteMeasurements measurements;

    @Autowired
    private JsonMapper json;

    @Autowired
    private Environment environment;

    @Autowired
    private HistoryChain chain;

    private TestBusiness.Lived lived;
    private UUID job;

    @BeforeAll
    void close() {
        lived = business.lived(mvc);
        job = business.closed(lived.fleet(), lived.repairer(), lived.vehicle(), lived.lot(), NOTES)
                .id();
    }

    @Test
    void itIsOnePageWithAnOutlineAndAllThatWasDone() throws IOException {
        var pdf = file("pdf");
        Files.write(Path.of("target", "certificate.pdf"), pdf);
        try (var document = Loader.loadPDF(pdf)) {
            assertThat(document.getNumberOfPages()).isEqualTo(1);
            assertThat(document.getDocumentCatalog().getDocumentOutline().children())
                    .extracting(item -> item.getTitle())
                    .containsExactly("Damage", "Work", "Phases", "Photos", "Signature");
            assertThat(document.getDocumentCatalog().getLanguage()).isEqualTo("en");
            var text = new PDFTextStripper().getText(document);
            assertThat(text)
                    .contains(
                            "QV 4321",
                            "Star break",
                            String.valueOf(java.time.Year.now(java.time.ZoneOffset.UTC)),
                            "L-1",
                            "Cure",
                            "Look over",
                            "Clear, level.",
                            "чисто")
                    .contains("[U+1F44D]", "[U+4F60]", "[U+597D]", "\uD83D\uDE00")
                    .contains(hash())
                    .doesNotContain("#");
        }
    }

    @Test
    void itTellsTheDoseOfTheCureAndWhetherItWasMeasuredAtTheVehicle() throws IOException {
        var measured = business.closed(
                lived.fleet(),
                lived.repairer(),
                lived.vehicle(),
                lived.lot(),
                NOTES,
                begun -> measurements.measure(
                        begun.id(),
                        new MeasureOnSite(
                                begun.brief().damages().getFirst().id(),
                                BigDecimal.valueOf(18),
                                null,
                                null,
                                null,
                                null,
                                null,
                                null)));
        for (var each : List.of(job, measured.id())) {
            try (var document = Loader.loadPDF(file(each, "pdf"))) {
                assertThat(document.getNumberOfPages()).isEqualTo(1);
                assertThat(new PDFTextStripper().getText(document).replaceAll("\\s+", " "))
                        // 10 mW/cm² for 600 s.
                        .contains("10.0 mW/cm² on the glass, 6.0 J/cm²")
                        .contains(
                                each.equals(job)
                                        ? "Not measured again at the vehicle"
                                        : "Measured again at the vehicle");
            }
        }
        assertThat(json.readTree(file("json")).at("/job/measuredOnSite")).isEmpty();
        assertThat(json.readTree(file(measured.id(), "json"))
                        .at("/job/measuredOnSite/0")
                        .asInt())
                .isEqualTo(measured.brief().damages().getFirst().number());
        assertThat(json.readTree(file("json")).path("job").propertyNames())
                .contains("startToldLate", "inspectionToldLate", "inspectionOffsetSeconds");
    }

    @Test
    void archivesAndScreenReadersTakeIt() throws Exception {
        for (var pdf : List.of(file("pdf"), longOne())) {
            for (var flavour : List.of(PDFAFlavour.PDFA_2_A, PDFAFlavour.PDFUA_1)) {
                assertThat(objections(pdf, flavour)).as(flavour.toString()).isEmpty();
            }
        }
    }

    /** A paper that was not made for archives, lest the validator takes all. */
    @Test
    void theValidatorObjectsToOtherPaper() throws Exception {
        TestOrganisations.as(lived.fleet(), Role.MANAGER, () -> cabCodes.make(lived.vehicle()));
        var card = call(lived.fleet(), Role.MANAGER, "/vehicles/" + lived.vehicle() + "/cab-code.pdf")
                .getResponse()
                .getContentAsByteArray();
        assertThat(objections(card, PDFAFlavour.PDFA_2_A)).isNotEmpty();
        assertThat(objections(card, PDFAFlavour.PDFUA_1)).isNotEmpty();
    }

    private byte[] longOne() {
        var notes = "A long story of a small break. ".repeat(60) + "{\u0394\u03BF\u03BA\u03B9\u03BC\u03AE}";
        var other = business.closed(lived.fleet(), lived.repairer(), lived.vehicle(), lived.lot(), notes);
        var pdf = file(other.id(), "pdf");
        try (var document = Loader.loadPDF(pdf)) {
            assertThat(document.getNumberOfPages()).isLessThanOrEqualTo(2);
            assertThat(smallest(document)).as("points").isGreaterThanOrEqualTo(7 - 0.05);
        } catch (IOException e) {
            throw new java.io.UncheckedIOException(e);
        }
        return pdf;
    }

    /** The smallest type on it, in points. */
    private static double smallest(PDDocument document) throws IOException {
        var smallest = new double[] {Double.MAX_VALUE};
        new PDFTextStripper() {
            @Override
            protected void processTextPosition(TextPosition text) {
                smallest[0] = Math.min(smallest[0], text.getFontSizeInPt());
            }
        }.getText(document);
        return smallest[0];
    }

    /** Issued anew it would be made of the rows of today, and nobody would see that it was gone. */
    @Test
    void aCertificateThatWasTakenAwayIsNotMadeAgain() {
        var own = business.live(mvc);
        var other = business.closed(own.fleet(), own.repairer(), own.vehicle(), own.lot(), NOTES);
        var url = Objects.requireNonNull(environment.getProperty("spring.datasource.url"));
        JdbcClient.create(new DriverManagerDataSource(url, TestServer.superuser(), TestServer.superuserPassword()))
                .sql("delete from certificate where job_id = :job")
                .param("job", other.id())
                .update();
        assertThat(call(own.repairer(), Role.DISPATCHER, "/jobs/" + other.id() + "/certificate.json"))
                .hasStatus(409)
                .bodyText()
                .contains("was made and is not there any more");
    }

    /** Nobody but whoever owns the database can do any of it, and both parties' histories tell. */
    @Test
    void whatIsChangedAfterItWasCertifiedIsFound() {
        var own = business.live(mvc);
        var other = business.closed(own.fleet(), own.repairer(), own.vehicle(), own.lot(), NOTES)
                .id();
        assertThat(faults(own.repairer(), other)).isEmpty();
        for (var change : List.of(
                "update phase set note = note || '.' where job_id = :job",
                "update job_reading set read_by = 'somebody' where job_id = :job",
                "update job_photo set added_by = 'somebody' where job_id = :job",
                "insert into job_note (tenant_id, performer_id, id, job_id, text, written_at, written_by) select "
                        + "tenant_id, performer_id, uuidv7(), id, 'late', now(), 'x' from job where id = :job",
                "update lot_use set amount = 'none' where job_id = :job",
                "update job set closing_notes = 'fine' where id = :job")) {
            var before = faults(own.repairer(), other);
            superuser().sql(change).param("job", other).update();
            assertThat(faults(own.repairer(), other))
                    .as(change)
                    .isNotEqualTo(before)
                    .hasSize(1);
        }
        superuser()
                .sql("delete from certificate where job_id = :job")
                .param("job", other)
                .update();
        assertThat(faults(own.repairer(), other)).singleElement().asString().contains("is gone");
    }

    private JdbcClient superuser() {
        var url = Objects.requireNonNull(environment.getProperty("spring.datasource.url"));
        return JdbcClient.create(
                new DriverManagerDataSource(url, TestServer.superuser(), TestServer.superuserPassword()));
    }

    private List<String> faults(TestOrganisation by, UUID of) {
        var number = jdbc(of);
        return TestOrganisations.as(by, Role.ADMINISTRATOR, () -> chain.checked(null, null)).faults().stream()
                .map(fault -> fault.sentence())
                .filter(sentence -> sentence.contains("job " + number + " ") || sentence.contains(of.toString()))
                .toList();
    }

    private int jdbc(UUID of) {
        return superuser()
                .sql("select number from job where id = :job")
                .param("job", of)
                .query(Integer.class)
                .single();
    }

    private static TreeSet<String> objections(byte[] pdf, PDFAFlavour flavour) throws Exception {
        VeraGreenfieldFoundryProvider.initialise();
        try (var parser = Foundries.defaultInstance().createParser(new ByteArrayInputStream(pdf), flavour);
                var validator = Foundries.defaultInstance().createValidator(flavour, false)) {
            var objections = new TreeSet<String>();
            var result = validator.validate(parser);
            assertThat(result.getTotalAssertions())
                    .as("rules that were looked at")
                    .isGreaterThan(100);
            assertThat(result.isCompliant())
                    .isEqualTo(result.getTestAssertions().isEmpty());
            result.getTestAssertions()
                    .forEach(each -> objections.add(each.getRuleId().getClause() + "-"
                            + each.getRuleId().getTestNumber() + " " + each.getMessage()));
            return objections;
        }
    }

    @Test
    void itIsTheSameToTheByteForBothPartiesAndForEver() {
        for (var ending : List.of("pdf", "json", "jws")) {
            var first = file(ending);
            assertThat(file(ending)).isEqualTo(first);
            assertThat(call(lived.repairer(), Role.DISPATCHER, "/jobs/" + job + "/certificate." + ending)
                            .getResponse()
                            .getContentAsByteArray())
                    .isEqualTo(first);
        }
        var owner = owner();
        org.assertj.core.api.Assertions.assertThatThrownBy(
                        () -> owner.sql("update certificate set pdf = ''").update())
                .hasStackTraceContaining("never changed");
    }

    @Test
    void whatIsSignedIsTheRecordInCanonicalForm() {
        var content = json.readTree(file("json"));
        assertThat(content.path("type").asString()).isEqualTo("quarterlight-certificate/1");
        assertThat(content.at("/job/closingNotes").asString()).isEqualTo(NOTES);
        assertThat(content.at("/lots/0/number").asString()).isEqualTo("L-1");
        assertThat(content.at("/job/phases")).hasSize(10);
        assertThat(content.at("/history/number").asLong()).isPositive();
        assertThat(names(content)).isSorted();
        assertThat(names(content.path("job"))).isSorted().doesNotContain("charge", "payer", "claimReference");
        var report = json.readTree(call(
                        lived.repairer(),
                        Role.ADMINISTRATOR,
                        "/history/chain?number=" + content.at("/history/number").asLong() + "&hash="
                                + content.at("/history/hash").asString())
                .getResponse()
                .getContentAsByteArray());
        assertThat(report.path("sound").asBoolean()).as(report.toString()).isTrue();
    }

    private static List<String> names(JsonNode node) {
        return new ArrayList<>(node.propertyNames());
    }

    /** The very lines of the README, with what they ask for. */
    @Test
    void itIsCheckedWithoutTheServiceByTheStepsOfTheReadme(@TempDir Path folder) throws Exception {
        var openssl = Files.isExecutable(Path.of("/usr/bin/openssl"));
        if (System.getenv("CI") == null) {
            assumeTrue(openssl, "no openssl on this machine");
        }
        var readme = Files.readString(Path.of("README.md"));
        var block = Pattern.compile("```bash\\n(# certificate\\.jws and jwks\\.json.*?)```", Pattern.DOTALL)
                .matcher(readme);
        assertThat(block.find()).as("the steps stand in the README").isTrue();
        var script = folder.resolve("check.sh");
        Files.writeString(script, "set -e\n" + block.group(1));
        var jws = new String(file("jws"), StandardCharsets.US_ASCII);
        rotate();
        Files.writeString(folder.resolve("jwks.json"), keySet());

        Files.writeString(folder.resolve("certificate.jws"), jws);
        assertThat(run(folder)).contains("Signature Verified Successfully");
        assertThat(folder.resolve("certificate.json")).hasBinaryContent(file("json"));

        var parts = jws.split("\\.", -1);
        var other = java.util.Base64.getUrlEncoder()
                .withoutPadding()
                .encodeToString(new String(java.util.Base64.getUrlDecoder().decode(parts[1]), StandardCharsets.UTF_8)
                        .replace("\"GOOD\"", "\"POOR\"")
                        .replace("good", "poor")
                        .getBytes(StandardCharsets.UTF_8));
        Files.writeString(folder.resolve("certificate.jws"), parts[0] + "." + other + "." + parts[2]);
        assertThat(run(folder)).doesNotContain("Signature Verified Successfully");
    }

    private static String run(Path folder) throws Exception {
        var process = new ProcessBuilder("bash", "check.sh")
                .directory(folder.toFile())
                .redirectErrorStream(true)
                .start();
        var said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        assertThat(process.waitFor(60, TimeUnit.SECONDS)).isTrue();
        return said;
    }

    @Test
    void whoeverHoldsItSeesWhetherItIsGenuineAndNothingElse() {
        var page = checkPage("");
        assertThat(page).hasStatusOk();
        assertThat(text(page))
                .contains(hash(), "Certificate ")
                .doesNotContain(
                        "QV 4321", lived.fleet().name(), lived.repairer().name(), "technician");
        assertThat(text(checkPage("?hash=" + hash()))).contains("that content is unchanged");
        assertThat(text(checkPage("?hash=" + (hash().startsWith("0") ? "1" : "0") + hash().substring(1))))
                .contains("has another hash");
        for (var wrong : List.of("x", "A".repeat(43), "%00", "A".repeat(300))) {
            assertThat(mvc.get()
                            .uri("/c/" + wrong)
                            .with(from("10.0.0.7"))
                            .exchange()
                            .getResponse()
                            .getStatus())
                    .as(wrong)
                    .isBetween(400, 404);
        }
    }

    @Test
    void whoeverTriesManyAddressesHasToWait() {
        MvcTestResult last = null;
        for (int attempt = 0; attempt < 70; attempt++) {
            last = mvc.get().uri("/c/" + "A".repeat(43)).with(from("10.0.0.9")).exchange();
        }
        assertThat(last).hasStatus(429);
    }

    @Test
    void aKeyThatWasReplacedStaysPublishedAndItsSignaturesValid() {
        var before = json.readTree(keySet()).path("keys").size();
        rotate();
        var keys = json.readTree(keySet()).path("keys");
        assertThat(keys).hasSizeGreaterThan(before);
        assertThat(keys.get(0).path("kty").asString()).isEqualTo("OKP");
        assertThat(keys.get(0).path("x").asString()).hasSize(43);
        assertThat(keySet()).doesNotContain("\"d\"");
        assertThat(call(lived.fleet(), Role.MANAGER, "/jobs/" + job + "/certificate.json"))
                .hasStatusOk();
        var out = new java.io.ByteArrayOutputStream();
        assertThat(RotateSigningKey.run(
                        Map.of(
                                "SPRING_DATASOURCE_URL", url(),
                                "SPRING_DATASOURCE_USERNAME", DatabaseRoles.APPLICATION,
                                "SPRING_DATASOURCE_PASSWORD", TestServer.PASSWORD),
                        new java.io.PrintStream(out),
                        new java.io.PrintStream(out)))
                .isZero();
        assertThat(owner().sql(
                                "select count(*) from signing_key where private_key is not null and retired_at is not null")
                        .query(Long.class)
                        .single())
                .isZero();
    }

    private void rotate() {
        assertThat(mvc.method(HttpMethod.POST)
                        .uri("/api/v1/signing-keys")
                        .header("Authorization", organisations.platform().bearer(Role.OPERATOR))
                        .exchange())
                .hasStatus(201);
    }

    private String keySet() {
        return text(mvc.get().uri("/.well-known/jwks.json").exchange());
    }

    private String hash() {
        return org.quarterlight.proof.CanonicalJson.sha256(file("json"));
    }

    private MvcTestResult checkPage(String query) {
        var content = json.readTree(file("json"));
        var ids = java.nio.ByteBuffer.allocate(32);
        for (var id :
                List.of(lived.fleet().id(), UUID.fromString(content.path("id").asString()))) {
            ids.putLong(id.getMostSignificantBits()).putLong(id.getLeastSignificantBits());
        }
        var seal = java.util.Base64.getUrlEncoder().withoutPadding().encodeToString(ids.array());
        return mvc.get().uri("/c/" + seal + query).exchange();
    }

    private static org.springframework.test.web.servlet.request.RequestPostProcessor from(String address) {
        return request -> {
            request.setRemoteAddr(address);
            return request;
        };
    }

    private JdbcClient owner() {
        return JdbcClient.create(new DriverManagerDataSource(url(), DatabaseRoles.OWNER, TestServer.PASSWORD));
    }

    private String url() {
        return Objects.requireNonNull(environment.getProperty("spring.datasource.url"));
    }

    private byte[] file(String ending) {
        return file(job, ending);
    }

    private byte[] file(UUID of, String ending) {
        var answer = call(lived.fleet(), Role.MANAGER, "/jobs/" + of + "/certificate." + ending);
        assertThat(answer).hasStatusOk();
        return answer.getResponse().getContentAsByteArray();
    }

    private MvcTestResult call(TestOrganisation who, Role role, String path) {
        return mvc.get()
                .uri("/api/v1" + path)
                .header("Authorization", who.bearer(role))
                .exchange();
    }

    private static String text(MvcTestResult answer) {
        return new String(answer.getResponse().getContentAsByteArray(), StandardCharsets.UTF_8);
    }
}
