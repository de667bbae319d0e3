package org.quarterlight;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.util.ArrayList;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.atomic.AtomicBoolean;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.Test;
import org.quarterlight.damage.DamagePhotos;
import org.quarterlight.damage.DamageReporting;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.Refused;
import org.quarterlight.repair.PhotoShows;
import org.quarterlight.repair.RepairJobs;
import org.quarterlight.tenancy.Role;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.transaction.support.TransactionSynchronizationManager;

/** Photos on their way to the record that owns them. */
@QuarterlightTest
class PhotoRowsTests {
    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private TestBusiness business;

    @Autowired
    private DamagePhotos photos;

    @Autowired
    private DamageReporting damages;

    @Autowired
    private RepairJobs jobs;

    @Test
    void aPhotoIsReadWithoutATransactionInHand() {
        var lived = business.live(mvc);
        var held = new AtomicBoolean();
        Runnable look = () -> held.compareAndSet(false, TransactionSynchronizationManager.isActualTransactionActive());
        TestOrganisations.as(
                lived.fleet(), Role.MANAGER, () -> photos.add(lived.openDamage(), watched(picture(1), look)));
        assertThat(held).isFalse();
        TestOrganisations.as(
                lived.repairer(),
                Role.TECHNICIAN,
                () -> jobs.addPhoto(lived.job(), PhotoShows.OTHER, watched(picture(2), look), null));
        assertThat(held).isFalse();
    }

    @Test
    void whatEndedWhileThePhotoWasReadTakesItNoMore() {
        var lived = business.live(mvc);
        var before = TestOrganisations.as(lived.fleet(), Role.MANAGER, () -> photos.list(lived.openDamage()));
        assertThatThrownBy(() -> TestOrganisations.as(
                        lived.fleet(),
                        Role.MANAGER,
                        () -> photos.add(
                                lived.openDamage(),
                                watched(picture(3), () -> damages.withdraw(lived.openDamage(), "a fly")))))
                .isInstanceOf(Refused.class);
        assertThat(TestOrganisations.as(lived.fleet(), Role.MANAGER, () -> photos.list(lived.openDamage())))
                .hasSameSizeAs(before);
    }

    @Test
    void manyPhotosAtOnceAreNotMoreThanADamageMayHave() throws InterruptedException, ExecutionException {
        var lived = business.live(mvc);
        var refused = 0;
        try (var threads = Executors.newFixedThreadPool(8)) {
            var answers = new ArrayList<Future<Boolean>>();
            for (int i = 0; i < 26; i++) {
                var content = picture(10 + i);
                answers.add(threads.submit(() -> {
                    try {
                        TestOrganisations.as(
                                lived.fleet(), Role.MANAGER, () -> photos.add(lived.openDamage(), content));
                        return true;
                    } catch (Invalid e) {
                        return false;
                    }
                }));
            }
            for (var answer : answers) {
                refused += answer.get() ? 0 : 1;
            }
        }
        assertThat(TestOrganisations.as(lived.fleet(), Role.MANAGER, () -> photos.list(lived.openDamage())))
                .hasSize(20);
        assertThat(refused).isEqualTo(6);
    }

    /** Does something besides when it is first read from. */
    private static InputStream watched(InputStream content, Runnable first) {
        return new FilterInputStream(content) {
            private boolean begun;

            @Override
            public int read(byte[] into, int offset, int length) throws IOException {
                if (!begun) {
                    begun = true;
                    first.run();
                }
                return super.read(into, offset, length);
            }
        };
    }

    private static InputStream picture(int width) {
        try (var out = new ByteArrayOutputStream()) {
            ImageIO.write(new BufferedImage(40 + width, 30, BufferedImage.TYPE_INT_RGB), "jpg", out);
            return new ByteArrayInputStream(out.toByteArray());
        } catch (IOException e) {
            throw new IllegalStateException(e);
        }
    }
}
