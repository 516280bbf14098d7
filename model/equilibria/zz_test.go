package equilibria_test
import ("testing";"fmt";"time";"underdisc/model/equilibria";"underdisc/scenarios";"underdisc/model/plant")
func TestZZ(t *testing.T){
 for _, name := range []string{"boiler-plant","gas-bench","steam-bench","gas-bench-plus"} {
  sc, err := scenarios.Load(name); if err!=nil { fmt.Println(name, err); continue }
  m, err := plant.Build(sc.Plant); if err!=nil { fmt.Println(name, err); continue }
  for _, v := range equilibria.Valves(m) {
   for _, o := range []equilibria.Options{{Plain:true},{Pilot:equilibria.Shut, Plain: true}} {
    if o.Pilot==equilibria.Shut && len(m.Valves)==0 || o.Pilot==equilibria.Shut && v[0]=='s' {continue}
    t0:=time.Now()
    k, err := equilibria.Of(m, v, o)
    d:=time.Since(t0)
    if err!=nil { fmt.Println(name, v, err); continue}
    n:=0; for _,b:=range k.Branches {n+=len(b.Points)}
    fmt.Printf("%s %s %d pts %v simmer %.4f", name, v, n, d, k.Simmer/1e5)
    for _, f := range k.Folds { fmt.Printf(" [%v x %.4f mm p %.4f in %.4f out %.3f pB %.3f W %.3f %v]", f.Kind, f.Lift*1e3, f.Vessel/1e5, f.Inlet/1e5, f.Outlet/1e5, f.Chamber/1e5, f.Flow, f.Corner) }
    fmt.Println()
    for _, b := range k.Branches { a,z := b.Points[0], b.Points[len(b.Points)-1]; fmt.Printf("    %v %d: %.4f mm %.3f bar - %.4f mm %.3f bar W %.3f\n", b.Kind, len(b.Points), a.Lift*1e3,a.Vessel/1e5,z.Lift*1e3,z.Vessel/1e5, z.Flow)}
    fmt.Printf("    loop %v blowdown %.2f\n", k.Loop, 100*k.Blowdown())
   }
  }
 }
}
