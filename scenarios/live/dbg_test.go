package live_test
import ("testing";"fmt";"math/rand/v2";"os";"strconv";"underdisc/scenarios";"underdisc/scenarios/live")
func TestDbg(t *testing.T){
 base,_:=scenarios.Load("steam-bench")
 seed,_:=strconv.Atoi(os.Getenv("SEED")); from,_:=strconv.Atoi(os.Getenv("FROM"))
 d := dice{rand.New(rand.NewPCG(uint64(seed), 1))}
 sc:=*base
 tol := []float64{1e-4, 1e-5, 1e-6, 1e-6, 1e-6, 1e-7}[d.IntN(6)]
 p,_,err:=randomDrum(d,sc.Plant); if err!=nil {t.Fatal(err)}
 sc.Plant=p
 sc.Faults = randomFaults(d, sc.Plant)
 sc.Until, sc.Commands, sc.Shows = randomSteamUntil, nil, nil
 r,err:=live.Start(&sc,live.Options{RelTol:tol,Bare:true}); if err!=nil {t.Fatal(err)}
 var last float64
 for i:=0;i<from+10;i++ {
  done,err:=r.Sim.Advance(30,1); if err!=nil {fmt.Println(i,err);break}; if done {break}
  s:=r.Sim.State()
  if i>=from {
   l:=r.Present().Net.Look(s.T,s.Y,s.Modes)
   fmt.Printf("%d t=%.9f h=%.3g modes %v x=%.4g v=%.4g net=%.5g events %d\n",i,s.T,s.T-last,s.Modes,l.Movers[0].X,l.Movers[0].V,l.Movers[0].Rest,len(r.Sim.Events()))
   if i%8==0 { 
   for _,k:=range l.Nodes {fmt.Printf("  %-20s p=%.8g T=%.4f x=%.6f liq=%.4g air=%.4g V=%.4g\n",k.Name,k.P,k.T,k.Quality,k.Liquid,k.Air,k.V)}
   for _,k:=range l.Flows {fmt.Printf("  %-20s W=%.6g\n",k.Name,k.W)}
   for _,k:=range l.Walls {fmt.Printf("  %-20s T=%.6g in=%.5g\n",k.Name,k.T,k.In)}
   fmt.Printf("%+v\n",r.Sim.Stats())
   }
  }
  last=s.T
 }
 e:=r.Sim.Events(); for k:=max(0,len(e)-6);k<len(e);k++ {fmt.Println(e[k].T,e[k].Name)}
 dd,_:=sc.Plant.Get("valve.disc.travel"); fmt.Println(dd.Value,tol)
}
