#include "engine/audit/honest_words.h"

namespace leadline::audit {

// From the small British and American lists of SCOWL (Kevin Atkinson; in Debian wbritish-small and wamerican-small 2020.12.07): words of six letters or more
// that are one letter, neither the first nor the last, from a word that stood in the book on 25 November 2026. By hand from then on.
const std::string_view honest_words =
    "allays allots alloyed alloys baring batter beading beaker beaming beaning bearding beards beater beating bedside beings bellow bewaring birthing "
    "bitter blames blanch blanches blanking blares blaring blazes bleaker blight blinding blushed blushes bolster boring breads breath bridle bridled "
    "brinks brunch brunches budging bugling bulking bulling bushed bushes butter buttery carriers carton cashes castes causes ceases cellos chaffed chance "
    "chanced chances change changed changes changing chanted chapped chapter charge charged charges charmed charming charred charring charted charter "
    "charters charting chased chases chaster chattier chicks chimps chirped chopped chopper clacked clacks clanged clanked clanking clatter clinked clinks "
    "clipped clocked clocks clover clovers clucked clucks comets commandos commend commended commends confection consumes contract contractor contractors "
    "contracts convection convertor cooper copier courts coverts covets cowers cracked cracking crackled cramps craned craning cranked crashed crimes "
    "crisps crusted currant currants curries daring decades decodes decrees derides derive derives devise devises dividend divined drafted drawls drivels "
    "driver drivers droops droves duding duping facets fading failing faking farces faring farther fating fatten fazing felling fellow fiends filling "
    "flailed flails flitted flouts foiled frills fulling gating giggles givens glides globes glowing gracing grading grafting grands granting graving "
    "graying grazing grinning groping groves growling growls guises gyrating haling haloes haloing halting hamper haunts having hearts hither holier holing "
    "holler hollers hooding hording inaner insert interval invent invest jointed joints jugging jumpier labors lacked lather latter leaded leading leafing "
    "leaking leaning leaping learning learns leasing leaving licenced licked lilted liners linger listed loafed loaned loaning lodger lofted logger looked "
    "looses lorded losers losses louses lucked makers malted marred masked massing maternal meddle mental messing meteor minuet minuets minuses minutes "
    "misting misuses misusing moaning molted mooing mooning moping moulted mounded mourning mouths movers movies mowing muddle mussing nearby neater "
    "neatest neatly needled neighbor nether notching noting novice oldest otters packet painted paints palace palates palled panted parked parred parsed "
    "parson partied pasted patted phonograph phrase phrases picket pierce pierces pilled places plaice planes pluses pointed polled ported powder practise "
    "prints probed projection projects prosper protests proves pulped pulsed purses pushers racing rafting raging raided railed rained raises raking ransom "
    "ranting raping raring ratting raving razing reacted readying reaming reaping rearing refuges refutes remade remote remove rending reneged rented "
    "renting repealed repealing repeals repented repenting repents replay resent resort retches retort reuses revere revered reveres reverie reverted "
    "rinses risers roaches robber rotund rubier ruining rulers rusted rusting sapped scanner scared scaring scrapping seared searing seated seating senior "
    "serves settling shaded shades shading shaking shamed shames shaming shaped shapes shaping shares sharing sharked sharking sharped sharping shaved "
    "shaves shaving sheared shearing shells shifts shirted shopped shored shoring shouted showed shrank shrews shriek shrunk shutters sidles siring sitting "
    "skated slakes slaking slapped slated sleeks sleets slices slicks slides slitter slopped slowed smalls smarted smarter smarting smarts smells smelts "
    "snakes snaking snapped snared snaring sneaking sneaks snitch snitched snitches snitching snorted snowed soaking soared soaring sopped sorted spacial "
    "spared sparing sparse spearing spears specking specks spells spewed spines splatter splinter sported sprang spreed sprigs spring springs sprints "
    "sprung sputters spying squire squired stabled stacks staged stairs staked stakes staking staled stalked stands stapled stared stares staring starker "
    "starred starring started startled startling starved starving stated stater stating staved stayed steaks steals steamy steeps stepped stewed stilled "
    "stings stinks stitch stitched stitches stitching stocks stoked stomped stomps stoned stooped stoops stored storing strand strands strays strewed "
    "strews string strings strong struck strung suction suctions suites suppliers swamped sweeps swells tablets takers teeter thanks thinker thinks thongs "
    "thorough though through timers tipped topped torched torches torching trapped tripled tripos trough trowel trusting tuning turfed turfing uptight "
    "wafting wailing waists waiter waiving wakens waning wanting warding warming warping warring washes wasting weaver wedded weeded welled welted wielded "
    "wincing winging wining winking winner winning winnings wiping wishing worded worlds wormed writhe writing yearns ";

}  // namespace leadline::audit
