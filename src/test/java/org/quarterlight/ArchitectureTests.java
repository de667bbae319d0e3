package org.quarterlight;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static org.assertj.core.api.Assertions.assertThat;

import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import jakarta.persistence.Entity;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.springframework.data.repository.Repository;
import org.springframework.modulith.core.ApplicationModules;
import org.springframework.transaction.annotation.Transactional;

class ArchitectureTests {
    private static final JavaClasses CLASSES = new ClassFileImporter()
            .withImportOption(ImportOption.Predefined.DO_NOT_INCLUDE_TESTS)
            .importPackages("org.quarterlight");

    @Test
    void modulesUseOnlyWhatTheyMayAndNeverInACircle() {
        ApplicationModules.of(Quarterlight.class).verify();
    }

    @Test
    void coresKnowNoFramework() {
        noClasses()
                .that()
                .resideInAnyPackage(
                        "org.quarterlight.kernel..",
                        "org.quarterlight.glass..",
                        "org.quarterlight.eligibility..",
                        "org.quarterlight.bench..",
                        "org.quarterlight.measurement..",
                        "org.quarterlight.fleet.list..",
                        "org.quarterlight.dispatch.routing..")
                .and()
                .doNotHaveSimpleName("package-info")
                .should()
                .dependOnClassesThat()
                .resideInAnyPackage("org.springframework..", "jakarta..", "org.hibernate..")
                .allowEmptyShould(true)
                .check(CLASSES);
    }

    @Test
    void entitiesAndRepositoriesStayHome() {
        classes()
                .that()
                .areAnnotatedWith(Entity.class)
                .should()
                .bePackagePrivate()
                .check(CLASSES);
        classes()
                .that()
                .areAssignableTo(Repository.class)
                .should()
                .bePackagePrivate()
                .check(CLASSES);
    }

    @Test
    void repositoriesAreTransactionalByThemselves() {
        classes()
                .that()
                .areAssignableTo(Repository.class)
                .should()
                .beAnnotatedWith(Transactional.class)
                .check(CLASSES);
    }

    @Test
    void everyPackageIsNullMarked() throws IOException {
        try (var folders = Files.walk(Path.of("src/main/java/org/quarterlight"))) {
            assertThat(folders.filter(Files::isDirectory).filter(ArchitectureTests::holdsSources))
                    .allSatisfy(folder -> assertThat(folder.resolve("package-info.java"))
                            .content()
                            .contains("@NullMarked"));
        }
    }

    private static boolean holdsSources(Path folder) {
        try (var files = Files.list(folder)) {
            return files.anyMatch(file -> file.toString().endsWith(".java"));
        } catch (IOException e) {
            throw new IllegalStateException(e);
        }
    }
}
